/* Partly filled vessels and pipes.
 * Problem: the volume below a level in a cylinder that lies, stands or slopes, with its heads.
 * Method: closed formulas, each derived from the cross-section. Circle segment of depth h in radius
 * R: R^2 acos((R-h)/R) - (R-h) sqrt(2Rh-h^2). Sphere: cap of height h: pi h^2 (3R-h)/3; an
 * elliptical head is a sphere squeezed along the axis. A dished head is a sphere of radius D
 * (crown) that goes over into a ring of radius D/10 (knuckle): the proportions of a Kloepper head,
 * DIN 28011, taken of the inside diameter; standing, cap and ring have closed volumes; lying, its
 * depth x(r) over the radius r is integrated over the part of each circle that lies below the
 * level. With r = a + (b-a)(1-cos(pi t))/2 on each piece the integrand is smooth and even at both
 * ends, so the rule of equal steps converges fast (the reason for Clenshaw-Curtis quadrature). A
 * sloping pipe is cut by discs across its axis, whose depth below the level changes evenly along
 * it: the antiderivative of the segment's area gives the volume. Source: partly filled cylinders
 * and heads in Perry's Chemical Engineers' Handbook, section "Storage and process vessels" (from
 * memory); head proportions DIN 28011 (from memory). Assumptions: thin walls; heads alike; pipes
 * straight. Cost: constant. */
#include "shape.h"

static const double PI = 3.14159265358979323846;
enum { STEPS = 96 };

/* Crown and knuckle of a dished head, in diameters. */
static const double CROWN = 1.0, KNUCKLE = 0.1;

bool still_vessel_drum(const still_plant *plant, uint32_t comp, still_drum *out)
{
    double shape = still_comp_q(plant, comp, STILL_Q_SHAPE);
    double heads = still_comp_q(plant, comp, STILL_Q_HEADS);
    still_drum d = {.diameter_m = still_comp_q(plant, comp, STILL_Q_DIAMETER_M),
                    .length_m = still_comp_q(plant, comp, STILL_Q_LENGTH_M),
                    .bottom_m = still_comp_q(plant, comp, STILL_Q_BOTTOM_M)};
    if (isnan(shape) || isnan(heads) || !(d.diameter_m > 0) || isnan(d.length_m) ||
        isnan(d.bottom_m))
        return false;
    d.upright = (unsigned)shape == STILL_SHAPE_VERTICAL;
    d.heads = (unsigned)heads;
    *out = d;
    return true;
}

static double clamp(double x, double low, double high)
{
    return x < low ? low : x > high ? high : x;
}

/* Of a circle of radius R about 0: the area at heights below t. */
static double segment(double R, double t)
{
    t = clamp(t, -R, R);
    return R * R * (PI / 2 + asin(t / R)) + t * sqrt(fmax(0, R * R - t * t));
}

/* Its integral from -R to t. */
static double segment_sum(double R, double t)
{
    double u = clamp(t, -R, R), w = fmax(0, R * R - u * u);
    double sum = R * R * (PI / 2 * u + u * asin(u / R) + sqrt(w)) - w * sqrt(w) / 3;
    return t > R ? sum + PI * R * R * (t - R) : sum;
}

double still_drum_head_m(const still_drum *d)
{
    double D = d->diameter_m, c = CROWN - KNUCKLE, k = 0.5 - KNUCKLE;
    switch ((still_heads)d->heads) {
    case STILL_HEADS_DISHED: return D * (CROWN - sqrt(c * c - k * k));
    case STILL_HEADS_ELLIPTICAL: return D / 4;
    case STILL_HEADS_HEMISPHERICAL: return D / 2;
    case STILL_HEADS_FLAT:
    case STILL_HEADS_NOT_SAID:
    case STILL_HEADS_COUNT: break;
    }
    return 0;
}

double still_drum_height_m(const still_drum *d)
{
    return d->upright ? d->length_m + 2 * still_drum_head_m(d) : d->diameter_m;
}

/* A dished head that stands on its crown: volume below height z over its lowest point. */
static double dished_below(double D, double depth, double z)
{
    double c = D * (0.5 - KNUCKLE), r = D * KNUCKLE, R = D * CROWN;
    /* Crown and knuckle touch where the line through both centres meets them. */
    double at = R * c / (R - r), low = R - sqrt(R * R - at * at);
    double z1 = fmin(z, low), volume = PI * z1 * z1 * (3 * R - z1) / 3;
    if (z <= low) return volume;
    double limit[2] = {depth - z, depth - low}, sum[2];
    for (int i = 0; i < 2; i++) {
        double u = clamp(limit[i], 0, r), w = sqrt(fmax(0, r * r - u * u));
        sum[i] = c * c * u + c * (u * w + r * r * asin(u / r)) + r * r * u - u * u * u / 3;
    }
    return volume + PI * (sum[1] - sum[0]);
}

/* A head that stands on its top: volume below height z over its lowest point. */
static double standing_head(const still_drum *d, double z)
{
    double depth = still_drum_head_m(d), R = d->diameter_m / 2;
    z = clamp(z, 0, depth);
    if (!(depth > 0)) return 0;
    if (d->heads == STILL_HEADS_DISHED) return dished_below(d->diameter_m, depth, z);
    return PI * R * R * z * z * (3 * depth - z) / (3 * depth * depth);
}

/* Depth of a dished head at a distance from its axis. */
static double dish(double D, double depth, double radius)
{
    double c = D * (0.5 - KNUCKLE), r = D * KNUCKLE, R = D * CROWN, u = radius - c;
    if (radius <= R * c / (R - r)) return sqrt(R * R - radius * radius) - (R - depth);
    return sqrt(fmax(0, r * r - u * u));
}

/* Two dished heads on a lying drum: volume at heights below t over the axis. */
static double lying_dishes(const still_drum *d, double t)
{
    double D = d->diameter_m, depth = still_drum_head_m(d), kink[4] = {0}, volume = 0;
    double join = D * CROWN * (0.5 - KNUCKLE) / (CROWN - KNUCKLE), edge = clamp(fabs(t), 0, D / 2);
    kink[1] = fmin(join, edge);
    kink[2] = fmax(join, edge);
    kink[3] = D / 2;
    for (int i = 0; i < 3; i++) {
        double from = kink[i], width = kink[i + 1] - kink[i];
        for (int k = 1; k < STEPS; k++) {
            double at = PI * k / STEPS, radius = from + width * (1 - cos(at)) / 2;
            double below = radius <= fabs(t) ? (t < 0 ? 0 : 2 * PI)
                                             : 2 * (PI - acos(clamp(t / radius, -1, 1)));
            volume += dish(D, depth, radius) * radius * below * width / 2 * sin(at) * PI / STEPS;
        }
    }
    return 2 * volume;
}

double still_drum_below_m3(const still_drum *d, double level_m)
{
    double R = d->diameter_m / 2, depth = still_drum_head_m(d);
    double z = clamp(level_m - d->bottom_m, 0, still_drum_height_m(d));
    if (d->upright) {
        double straight = PI * R * R * clamp(z - depth, 0, d->length_m);
        double over = fmax(0, z - depth - d->length_m);
        double top = standing_head(d, depth) - standing_head(d, depth - over);
        return standing_head(d, z) + straight + top;
    }
    double straight = d->length_m * segment(R, z - R);
    if (d->heads == STILL_HEADS_DISHED) return straight + lying_dishes(d, z - R);
    return straight + depth / R * PI * z * z * (3 * R - z) / 3;
}

double still_drum_volume_m3(const still_drum *d)
{
    return still_drum_below_m3(d, d->bottom_m + still_drum_height_m(d));
}

/* A straight run of a length from one elevation up to another. */
static double straight_below(double R, double length, double low, double rise, double level)
{
    double up = length > 0 ? rise / length : 1, across = sqrt(fmax(0, 1 - up * up));
    if (across < 1e-6) return PI * R * R * clamp(level - low, 0, rise);
    if (up < 1e-6) return length * segment(R, (level - low) / across);
    double from = (level - low) / across, to = (level - low - rise) / across;
    return across / up * (segment_sum(R, from) - segment_sum(R, to));
}

double still_pipe_below_m3(double bore_m, double length_m, double one_end_m, double other_end_m,
                           double level_m)
{
    double R = bore_m / 2, low = fmin(one_end_m, other_end_m), rise = fabs(one_end_m - other_end_m);
    if (isnan(bore_m) || isnan(length_m)) return (double)NAN;
    if (!(R > 0)) return 0;
    double length = fmax(length_m, rise);
    double straight = straight_below(R, length, low, rise, level_m);
    double bent =
        (length - rise) * segment(R, level_m - low) + PI * R * R * clamp(level_m - low, 0, rise);
    return fmax(0, fmin(fmax(straight, bent), PI * R * R * length));
}
