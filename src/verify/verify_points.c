/* The lock-and-tag list: ids, tags, levels, what is counted, and whether each barrier may be one
 * (D1 to D6; METHOD section 3). */
#include "verify_rules.h"

#include <string.h>

static bool is_barrier(still_action a)
{
    return a == STILL_ACTION_CLOSE || a == STILL_ACTION_FIT || a == STILL_ACTION_REMOVE;
}

/* Why a component may not be a barrier: rule and words; NULL = it may. */
static const char *refusal(const still_verify *v, uint32_t comp, const char **rule)
{
    const still_comp *c = &v->plant->comps[comp];
    *rule = "D1";
    if (v->whole[comp]) return "the target is no point of its own isolation";
    if (c->cls == STILL_CLASS_BLIND || c->cls == STILL_CLASS_SPOOL) {
        bool known = (v->given & STILL_GIVEN_LEVELS) != 0;
        bool first = (!known || v->level[comp] == 1) && still_verify_asks_positive(v);
        if (v->closable[comp] || (v->positive[comp] && first)) return NULL;
        if (still_verify_condition(v, comp) != STILL_CONDITION_SOUND) {
            *rule = "D6";
            return "it cannot be used today";
        }
        return v->positive[comp] ? "fitted or removed for this work it is a point of the positive "
                                   "layer only"
                                 : "it has no flanged end, and cannot be taken out";
    }
    if (c->cls != STILL_CLASS_VALVE) return "it is no valve, blind or spool";
    if (still_verify_condition(v, comp) != STILL_CONDITION_SOUND) {
        *rule = "D6";
        return "it is passing, seized or out of reach today";
    }
    if (c->kind == STILL_KIND_THREE_WAY) {
        *rule = "D5";
        return v->fork[comp] ? NULL
                             : "a three-way valve needs declared positions, a hand and a lock";
    }
    if (!still_kind_stops(c->kind)) {
        *rule = c->kind == STILL_KIND_UNKNOWN || c->kind == STILL_KIND_NOT_SAID ? "N2" : "D2";
        return "a valve of this kind is never a point";
    }
    if (!still_verify_by_hand(c)) {
        *rule = "D3";
        return v->driven[comp] ? NULL
                               : "an actuated valve must fail closed, and its supply be known and "
                                 "lockable";
    }
    if (!v->closable[comp]) return "it is not said that it can be locked";
    return NULL;
}

/* Can a spade go in at one end of the spool, or the spool itself come out? */
static bool spool_action(const still_comp *c, still_action action)
{
    if (action == STILL_ACTION_REMOVE) return c->removable == STILL_YESNO_YES;
    return action == STILL_ACTION_FIT &&
           (c->end_from == STILL_ENDS_FLANGED || c->end_to == STILL_ENDS_FLANGED);
}

static bool suits(const still_comp *c, still_action action)
{
    switch ((still_class)c->cls) {
    case STILL_CLASS_VALVE: return action == STILL_ACTION_CLOSE;
    case STILL_CLASS_SPOOL: return spool_action(c, action);
    case STILL_CLASS_BLIND:
        return action == STILL_ACTION_FIT ||
               (action == STILL_ACTION_REMOVE && c->kind == STILL_KIND_REMOVABLE_SPOOL);
    case STILL_CLASS_NOT_SAID:
    case STILL_CLASS_VESSEL:
    case STILL_CLASS_PUMP:
    case STILL_CLASS_COMPRESSOR:
    case STILL_CLASS_EXCHANGER:
    case STILL_CLASS_FITTING:
    case STILL_CLASS_CAP:
    case STILL_CLASS_OUTLET:
    case STILL_CLASS_LIMIT:
    case STILL_CLASS_COUNT: break;
    }
    return false;
}

/* Is this one of the positions that a three-way valve declares? */
static bool declared(const still_verify *v, uint32_t comp, const char *to)
{
    const char *at = still_comp_t(v->plant, comp, STILL_T_POSITIONS);
    size_t n = strlen(to);
    while (*at != '\0' && n > 0) {
        size_t len = strcspn(at, " ");
        if (len == n && memcmp(at, to, n) == 0) return true;
        at += len + strspn(at + len, " ");
    }
    return false;
}

static void left_in(still_verify *v, const still_point *t, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (c->cls == STILL_CLASS_VALVE && c->kind == STILL_KIND_THREE_WAY) {
        if (declared(v, comp, t->to))
            v->set_to[comp] = t->to;
        else
            still_verify_against(v, "D5", t->id, "\"%s\" has no position \"%s\"", t->id, t->to);
    } else if (t->action == STILL_ACTION_CLOSE && strcmp(t->to, "closed") != 0) {
        still_verify_against(v, "D1", t->id, "\"%s\" is to be left \"%s\", not closed", t->id,
                             t->to);
    }
}

static void check_action(still_verify *v, const still_point *t, uint32_t comp)
{
    const still_comp *c = &v->plant->comps[comp];
    if (!suits(c, t->action))
        still_verify_against(v, "D1", t->id, "the action does not suit what \"%s\" is", t->id);
    left_in(v, t, comp);
    bool handling = (v->given & STILL_GIVEN_HANDLING) != 0;
    if (handling && c->cls != STILL_CLASS_SPOOL &&
        strcmp(t->from, still_verify_position(v, comp)) != 0)
        still_verify_against(v, "P1", t->id, "\"%s\" is not found \"%s\" today", t->id, t->from);
    if (handling && t->action == STILL_ACTION_CLOSE && strcmp(t->hold, "lock") != 0)
        still_verify_against(v, "D1", t->id, "closed valve \"%s\" is not held by a lock", t->id);
    if (handling && strcmp(t->legend, "Do Not Close") == 0)
        still_verify_against(v, "P1", t->id, "the tag on \"%s\" forbids what it must be", t->id);
    if (c->lockable == STILL_LOCKABLE_ASSUMED && (v->given & STILL_GIVEN_ASSUMPTIONS) &&
        (!t->assumed_lockable || !still_verify_assumed(v, t->id)))
        still_verify_against(v, "D1", t->id, "that \"%s\" can be locked is assumed, unsaid", t->id);
}

static void barrier(still_verify *v, const still_point *t, uint32_t comp)
{
    if (comp == STILL_NONE) {
        still_verify_against(v, "I7", t->id, "point \"%s\" is no component of the plant", t->id);
        return;
    }
    if (v->barrier[comp]) still_verify_against(v, "I4", t->id, "\"%s\" is counted twice", t->id);
    v->barrier[comp] = 1;
    v->level[comp] = t->level > 2 ? 3 : (uint8_t)t->level;
    const char *rule = NULL, *why = refusal(v, comp, &rule);
    if (why != NULL)
        still_verify_against(v, rule, t->id, "\"%s\" may not be a point: %s", t->id, why);
    check_action(v, t, comp);
}

static void switch_off(still_verify *v, const still_point *t, uint32_t feed)
{
    if (feed == STILL_NONE) {
        still_verify_against(v, "I7", t->id, "point \"%s\" is no feed of the plant", t->id);
        return;
    }
    uint32_t lowest = v->isolator_of[feed];
    if (lowest != feed)
        still_verify_against(v, "N5", t->id, "the isolator of \"%s\" goes by its lowest feed, %s",
                             t->id, still_text(v->plant, v->plant->feeds[lowest].id));
    if (v->locked[lowest])
        still_verify_against(v, "N5", t->id, "the isolator of \"%s\" is counted twice", t->id);
    v->locked[lowest] = 1;
    if (t->level > v->n_levels)
        still_verify_against(v, "I2", t->id, "feed \"%s\" is of level %u", t->id,
                             (unsigned)t->level);
}

static void opened(still_verify *v, const still_point *t, uint32_t comp)
{
    if (comp == STILL_NONE) {
        still_verify_against(v, "I7", t->id, "point \"%s\" is no component of the plant", t->id);
        return;
    }
    v->opened[comp] = 1;
    still_condition now = still_verify_condition(v, comp);
    if (now == STILL_CONDITION_SEIZED || now == STILL_CONDITION_UNREACHABLE)
        still_verify_against(v, "D6", t->id, "\"%s\" cannot be opened: seized or out of reach",
                             t->id);
    if (t->level != 0)
        still_verify_against(v, "I2", t->id, "\"%s\" is opened and is no barrier of level %u",
                             t->id, (unsigned)t->level);
    if (strcmp(t->to, "open") != 0)
        still_verify_against(v, "E4", t->id, "\"%s\" is to be opened but left \"%s\"", t->id,
                             t->to);
    if (strcmp(t->legend, "Do Not Open") == 0)
        still_verify_against(v, "P1", t->id, "the tag on \"%s\" forbids what it must be", t->id);
}

static void one_point(still_verify *v, size_t i)
{
    const still_point *t = &v->rec->points[i];
    uint32_t comp = still_verify_comp(v, t->id), feed = still_verify_feed(v, t->id);
    v->point_comp[i] = comp;
    v->point_feed[i] = feed;
    if (t->tag != i + 1)
        still_verify_against(v, "P1", t->id, "tag %u stands at place %zu of the list",
                             (unsigned)t->tag, i + 1);
    if (t->counted != (t->action != STILL_ACTION_OPEN))
        still_verify_against(v, "I4", t->id, "\"%s\" is %s, against its action", t->id,
                             t->counted ? "counted" : "not counted");
    if (is_barrier(t->action))
        barrier(v, t, comp);
    else if (t->action == STILL_ACTION_SWITCH_OFF)
        switch_off(v, t, feed);
    else if (t->action == STILL_ACTION_OPEN)
        opened(v, t, comp);
    else
        still_verify_against(v, "I7", t->id, "unknown action at point \"%s\"", t->id);
}

void still_verify_points(still_verify *v)
{
    const still_record *r = v->rec;
    uint32_t counted = 0;
    still_verify_grade_claimed(v);
    for (size_t i = 0; i < r->n_points; i++) {
        one_point(v, i);
        if (r->points[i].counted) counted++;
    }
    for (size_t i = 0; i < r->n_points; i++) {
        uint32_t comp = v->point_comp[i];
        if (comp != STILL_NONE && v->barrier[comp] && v->opened[comp])
            still_verify_against(v, "I1", r->points[i].id,
                                 "\"%s\" is closed as a barrier and opened by another point",
                                 r->points[i].id);
    }
    if ((v->given & STILL_GIVEN_COST) && counted != r->cost_points)
        still_verify_against(v, "I4", "", "cost.points is %u, but %u points are counted",
                             (unsigned)r->cost_points, (unsigned)counted);
}
