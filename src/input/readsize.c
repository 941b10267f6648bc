/* Bore, wall and schedule: an inside diameter, or a nominal size by the pipe-size table. A wall
 * that the file gives comes before the schedule; without either a nominal size has the wall STD. */
#include "reader.h"

#include "pipesize.h"

#include <string.h>

/* Metres to millimetres, to the nanometre: what was written in mm comes back as written. */
static double in_mm(double m)
{
    return round(m * 1e9) / 1e6;
}

static void read_size(still_reader *r, double *bore_mm, double *wall_mm)
{
    const still_raw *bore = &r->raw[STILL_ATTR_BORE], *schedule = &r->raw[STILL_ATTR_SCHEDULE];
    bool scheduled = still_reader_has(r, STILL_ATTR_SCHEDULE);
    bool walled = still_reader_has(r, STILL_ATTR_WALL);
    *bore_mm = (double)NAN;
    *wall_mm = walled ? in_mm(r->q[STILL_ATTR_WALL]) : (double)NAN;
    if (walled && !(*wall_mm > 0))
        still_reader_fault_value(r, STILL_CODE_RANGE, STILL_ATTR_WALL, "is not above 0");
    if (!still_reader_has(r, STILL_ATTR_BORE) || !still_pipe_nominal(bore->p, bore->len)) {
        if (scheduled)
            still_reader_fault(r, STILL_CODE_SCHEDULE, STILL_ATTR_SCHEDULE,
                               "schedule without a nominal size is ignored");
        if (!still_reader_has(r, STILL_ATTR_BORE)) return;
        double m;
        still_quantity_fault fault = still_quantity_parse(bore->p, bore->len, STILL_DIM_LENGTH, &m);
        if (fault != STILL_QUANTITY_OK) {
            still_reader_fault_quantity(r, STILL_ATTR_BORE, fault);
        } else {
            *bore_mm = in_mm(m);
            if (!(*bore_mm > 0))
                still_reader_fault_value(r, STILL_CODE_RANGE, STILL_ATTR_BORE, "is not above 0");
        }
        return;
    }
    const still_pipe_size *size = still_pipe_find(bore->p, bore->len);
    if (size == NULL) {
        still_reader_fault_value(r, STILL_CODE_PIPE_SIZE, STILL_ATTR_BORE,
                                 "is not in the pipe-size table");
        return;
    }
    double wall = size->std_mm;
    if (scheduled) wall = still_pipe_wall_mm(size, schedule->p, schedule->len);
    if (isnan(wall)) {
        still_reader_fault_value(r, STILL_CODE_PIPE_SIZE, STILL_ATTR_SCHEDULE,
                                 "is not in the pipe-size table for this size");
        return;
    }
    if (!walled) *wall_mm = wall;
    *bore_mm = round((size->od_mm - 2 * *wall_mm) * 1e6) / 1e6;
    if (!(*bore_mm > 0))
        still_reader_fault_value(r, STILL_CODE_RANGE, STILL_ATTR_WALL,
                                 "leaves no bore in a pipe of this size");
}

static bool equals(const char *kept, const still_raw *raw)
{
    return strncmp(kept, raw->p, raw->len) == 0 && kept[raw->len] == '\0';
}

/* Most pipes of a plant have one of a few sizes: those read lately are kept as they were written.
 */
void still_reader_size(still_reader *r, double *bore_mm, double *wall_mm)
{
    static const still_raw none = {"", 0};
    bool scheduled = still_reader_has(r, STILL_ATTR_SCHEDULE);
    const still_raw *bore = &r->raw[STILL_ATTR_BORE];
    const still_raw *schedule = scheduled ? &r->raw[STILL_ATTR_SCHEDULE] : &none;
    bool plain = still_reader_has(r, STILL_ATTR_BORE) && !still_reader_has(r, STILL_ATTR_WALL) &&
                 bore->len > 0 && bore->len < sizeof r->sizes[0].bore &&
                 schedule->len < sizeof r->sizes[0].schedule;
    for (unsigned i = 0; plain && i < STILL_SIZES_KEPT; i++) {
        const still_size_read *kept = &r->sizes[i];
        if (!equals(kept->bore, bore) || !equals(kept->schedule, schedule)) continue;
        *bore_mm = kept->bore_mm;
        *wall_mm = kept->wall_mm;
        return;
    }
    read_size(r, bore_mm, wall_mm);
    if (!plain || !still_pipe_nominal(bore->p, bore->len) || !(*bore_mm > 0)) return;
    still_size_read *keep = &r->sizes[r->size_at++ % STILL_SIZES_KEPT];
    *keep = (still_size_read){.bore_mm = *bore_mm, .wall_mm = *wall_mm};
    memcpy(keep->bore, bore->p, bore->len);
    memcpy(keep->schedule, schedule->p, schedule->len);
}
