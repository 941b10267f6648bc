/* Random small plants with gaps, for test_places.c and test_since.c. Piece i is the tee N<i> with a
 * limit or cap K<i>, which gives its segment the name K<i>; device d is D<d>. Pressures in barg. */
#ifndef STILL_TEST_GAPKIT_H
#define STILL_TEST_GAPKIT_H

#include "plantkit.h"
#include "stillset/coverage.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { GAP_PIECES = 8, GAP_DEVICES = 12 };

typedef enum gap_kind {
    GAP_CHECK,
    GAP_SEALED,
    GAP_OPEN,
    GAP_SERVICE,
    GAP_CONTROL,
    GAP_RELIEF,
    GAP_THREE_WAY,
    GAP_KINDS
} gap_kind;

typedef struct gap_device {
    gap_kind kind;
    int end[3]; /* in, out; three-way: a, b, c (common); relief valve: in */
    int set;
} gap_device;

typedef struct gap_plant {
    int n_pieces, n_devices;
    double design[GAP_PIECES]; /* NAN = unknown */
    bool limit[GAP_PIECES];
    gap_device devices[GAP_DEVICES];
} gap_plant;

static inline void gap_device_make(gap_plant *p, int d, kit_random *random)
{
    static const int sets[] = {5, 12, 17, 25};
    gap_device *v = &p->devices[d];
    uint32_t k = kit_below(random, 14);
    v->kind = k < 4 ? GAP_CHECK : k < 10 ? (gap_kind)(k - 3) : GAP_THREE_WAY;
    if (k >= 12) v->kind = GAP_CHECK;
    v->set = sets[kit_below(random, 4)];
    for (int e = 0; e < 3; e++) v->end[e] = (int)kit_below(random, (uint32_t)p->n_pieces);
}

static inline void gap_plant_make(gap_plant *p, kit_random *random)
{
    p->n_pieces = 2 + (int)kit_below(random, GAP_PIECES - 1);
    p->n_devices = 1 + (int)kit_below(random, GAP_DEVICES);
    for (int i = 0; i < p->n_pieces; i++) {
        uint32_t s = kit_below(random, 9);
        p->design[i] = s < 4 ? 10 : s < 8 ? 19 : (double)NAN;
        p->limit[i] = kit_below(random, 5) != 0;
    }
    for (int d = 0; d < p->n_devices; d++) gap_device_make(p, d, random);
}

static inline const char *gap_service(double design)
{
    return isnan(design) ? "U" : design < 15 ? "A" : "B";
}

static inline void gap_device_write(still_buf *text, const gap_plant *p, int d)
{
    static const char *const words[] = {
        "check",  "globe sealed=open",          "globe open", "globe open use=service", "control",
        "relief", "three-way positions=a-c_b-c"};
    const gap_device *v = &p->devices[d];
    still_buf_printf(text, "valve D%d %s", d, words[v->kind]);
    if (v->kind == GAP_RELIEF) {
        still_buf_printf(text,
                         " set-pressure=%d_barg;outlet O%d vent leads-to=safe-place fitted=open;"
                         "run service=B D%d.out O%d;run service=%s N%d D%d.in;",
                         v->set, d, d, d, gap_service(p->design[v->end[0]]), v->end[0], d);
        return;
    }
    still_buf_char(text, ';');
    for (int e = 0; e < (v->kind == GAP_THREE_WAY ? 3 : 2); e++) {
        static const char *const ports[2][3] = {{"in", "out", ""}, {"a", "b", "c"}};
        still_buf_printf(text, "run service=%s N%d D%d.%s;", gap_service(p->design[v->end[e]]),
                         v->end[e], d, ports[v->kind == GAP_THREE_WAY][e]);
    }
}

static inline void gap_plant_write(still_buf *text, const gap_plant *p)
{
    still_buf_add(text, "<service id='A' phase='liquid' design-pressure='10 barg'/>;"
                        "<service id='B' phase='liquid' design-pressure='19 barg'/>;"
                        "<service id='U' phase='liquid'/>;");
    for (int i = 0; i < p->n_pieces; i++)
        still_buf_printf(text, "tee N%d;%s K%d;run service=%s N%d K%d;", i,
                         p->limit[i] ? "limit" : "cap", i, gap_service(p->design[i]), i, i);
    for (int d = 0; d < p->n_devices; d++) gap_device_write(text, p, d);
}

static inline const still_segment *gap_segment(const still_coverage_record *r, const char *name)
{
    for (size_t i = 0; i < r->n_segments; i++)
        if (strcmp(r->segments[i].name, name) == 0) return &r->segments[i];
    fail_msg("no segment %s", name);
    return NULL;
}

/* A plant and its coverage. */
typedef struct gap_case {
    kit k;
    still_coverage *coverage;
    const still_coverage_record *r;
} gap_case;

static inline void gap_open(gap_case *c, const char *text)
{
    c->coverage = NULL;
    kit_open(&c->k, text);
    assert_int_equal(still_coverage_make(&c->coverage, c->k.plant, NULL, NULL, NULL), STILL_OK);
    c->r = still_coverage_record_of(c->coverage);
}

static inline void gap_close(gap_case *c)
{
    still_coverage_free(c->coverage);
    kit_close(&c->k);
}

#endif
