/** @file chart.h  Pressure against temperature of a closed-in piece, as a drawing. */
#ifndef STILL_CHART_H
#define STILL_CHART_H

#include "canvas.h"
#include "stillset/coverage.h"
#include "stillset/status.h"

#include "plant.h"

#define STILL_CHART_TYPE 12.0

/** One frame with axes, curves and lines across. Lengths in pixels, pressures in bar gauge. */
typedef struct still_chart_panel {
    const still_curve_record *r;
    double x, y, w, h;          /**< of the frame */
    double label_room;          /**< width to the right of it, for labels */
    double low_degC, high_degC; /**< ends of the axes */
    double low_barg, high_barg;
    bool details; /**< every line across, both scales of pressure; else the way to ambient only */
} still_chart_panel;

/** Draw it, axes and all. */
void still_chart_panel_draw(still_canvas *out, const still_chart_panel *panel);
/** Distance of round ticks, so that about n lie within a range. */
double still_chart_step(double range, double n);
/** The page as a list of primitives. @return STILL_OK or STILL_E_NOMEM */
STILL_NODISCARD still_status still_chart_page(still_canvas *out, const still_curve_record *r);

#endif
