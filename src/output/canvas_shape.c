/* Shapes from path data. Format: SVG path data (SVG 1.1, 8.3) with the commands M L H V Q A Z in
 * capitals; numbers may have a decimal point and are apart by a space or a sign: "M-18-11L0 0L-18
 * 11Z". Arcs are of circles. Only the program's own shapes pass through here. */
#include "canvas.h"

#include <math.h>

typedef struct reader {
    still_canvas *c;
    const char *at;
    double x, y; /**< where the pen is, around (0, 0) and not mirrored */
    double mid_x, mid_y, sign;
} reader;

/** A number, with at most one decimal point. */
static double number(reader *r)
{
    double value = 0.0, sign = 1.0, unit = 1.0;
    while (*r->at == ' ') r->at++;
    if (*r->at == '-') {
        sign = -1.0;
        r->at++;
    }
    for (; *r->at >= '0' && *r->at <= '9'; r->at++) value = value * 10.0 + (double)(*r->at - '0');
    if (*r->at == '.') {
        r->at++;
        for (; *r->at >= '0' && *r->at <= '9'; r->at++) {
            unit /= 10.0;
            value += unit * (double)(*r->at - '0');
        }
    }
    return sign * value;
}

static void curve(reader *r, double x1, double y1, double x2, double y2, double x3, double y3)
{
    still_canvas_curve(
        r->c, (double[]){r->mid_x + r->sign * x1, r->mid_x + r->sign * x2, r->mid_x + r->sign * x3},
        (double[]){r->mid_y + y1, r->mid_y + y2, r->mid_y + y3});
    r->x = x3;
    r->y = y3;
}

static void quadratic(reader *r)
{
    double qx = number(r), qy = number(r), x = number(r), y = number(r);
    curve(r, r->x + (qx - r->x) * 2.0 / 3.0, r->y + (qy - r->y) * 2.0 / 3.0,
          x + (qx - x) * 2.0 / 3.0, y + (qy - y) * 2.0 / 3.0, x, y);
}

/** An arc of a circle: centre from the end points (SVG 1.1, F.6.5), then cubic curves of at most a
 *  quarter each. A radius that is too small grows until the arc reaches. */
static void arc(reader *r)
{
    double radius = number(r);
    (void)number(r);
    (void)number(r);
    bool large = number(r) > 0.5, sweep = number(r) > 0.5;
    double x = number(r), y = number(r);
    double dx = (x - r->x) / 2.0, dy = (y - r->y) / 2.0, half = hypot(dx, dy);
    if (half < 1e-9) return;
    radius = fmax(radius, half);
    double off = sqrt(fmax(0.0, radius * radius - half * half)) / half;
    if (large == sweep) off = -off;
    double cx = r->x + dx - off * dy, cy = r->y + dy + off * dx;
    double from = atan2(r->y - cy, r->x - cx), by = atan2(y - cy, x - cx) - from;
    const double turn = 2.0 * acos(-1.0);
    if (sweep && by <= 1e-9) by += turn;
    if (!sweep && by >= -1e-9) by -= turn;
    int n = (int)ceil(fabs(by) / (turn / 4.0) - 1e-9);
    double k = 4.0 / 3.0 * tan(by / n / 4.0) * radius;
    for (int i = 0; i < n; i++) {
        double a = from + by * i / n, b = from + by * (i + 1) / n;
        double ex = i == n - 1 ? x : cx + radius * cos(b),
               ey = i == n - 1 ? y : cy + radius * sin(b);
        curve(r, r->x - k * sin(a), r->y + k * cos(a), ex + k * sin(b), ey - k * cos(b), ex, ey);
    }
}

static void straight(reader *r, char op)
{
    if (op != 'V') r->x = number(r);
    if (op != 'H') r->y = number(r);
    double x = r->mid_x + r->sign * r->x, y = r->mid_y + r->y;
    if (op == 'M')
        still_canvas_move(r->c, x, y);
    else
        still_canvas_to(r->c, x, y);
}

void still_canvas_shape(still_canvas *c, still_look look, double x, double y, bool mirrored,
                        const char *data)
{
    reader r = {c, data, 0.0, 0.0, x, y, mirrored ? -1.0 : 1.0};
    double start_x = 0.0, start_y = 0.0;
    still_canvas_path(c, look);
    while (*r.at != '\0' && !c->failed) {
        char op = *r.at++;
        switch (op) {
        case 'M':
        case 'L':
        case 'H':
        case 'V': straight(&r, op); break;
        case 'Q': quadratic(&r); break;
        case 'A': arc(&r); break;
        case 'Z':
            still_canvas_end(c);
            r.x = start_x;
            r.y = start_y;
            break;
        default: break;
        }
        if (op == 'M') {
            start_x = r.x;
            start_y = r.y;
        }
    }
}
