#include "codes.h"

static const struct {
    const char *text, *summary;
    still_severity severity;
} codes[] = {
#define X(name, code, severity, summary) {code, summary, severity},
    STILL_CODE_TABLE(X)
#undef X
};

const char *still_code_text(still_code code)
{
    return (unsigned)code < STILL_CODE_COUNT ? codes[code].text : "";
}

still_severity still_code_severity(still_code code)
{
    return (unsigned)code < STILL_CODE_COUNT ? codes[code].severity : STILL_SEV_ERROR;
}

const char *still_code_summary(still_code code)
{
    return (unsigned)code < STILL_CODE_COUNT ? codes[code].summary : "";
}
