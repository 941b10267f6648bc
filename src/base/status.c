#include "stillset/status.h"

const char *still_status_text(still_status status)
{
    switch (status) {
#define X(name, number, exit_status, text)                                                         \
    case name: return text;
        STILL_STATUS_TABLE(X)
#undef X
    }
    return "unknown status";
}

int still_status_exit(still_status status)
{
    switch (status) {
#define X(name, number, exit_status, text)                                                         \
    case name: return exit_status;
        STILL_STATUS_TABLE(X)
#undef X
    }
    return 70;
}

const char *still_version(void)
{
    return STILL_VERSION_TEXT;
}
