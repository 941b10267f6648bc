#include "stillset/record.h"

const char *still_action_text(still_action action)
{
    switch (action) {
    case STILL_ACTION_CLOSE: return "close";
    case STILL_ACTION_FIT: return "fit";
    case STILL_ACTION_REMOVE: return "remove";
    case STILL_ACTION_SWITCH_OFF: return "switch-off";
    case STILL_ACTION_OPEN: return "open";
    }
    return "";
}
