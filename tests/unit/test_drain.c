/* Pockets (E3) on random small trees and loops of pipe against brute force.
 *
 * Brute force: every simple way from a place to the drain, each with its highest elevation; the
 * lowest of these is the level that the liquid at the place keeps. A place below its level keeps
 * liquid; pockets are the groups of such places that pipes join, with the part of each pipe at them
 * that lies below the level: summed up slice by slice, of a straight pipe and of one that runs
 * level at its lower end first; the larger counts. */
#include "plantkit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PLANTS = 1500, SEED = 977, MAX_NODES = 9, MAX_PIPES = 16 };

/* Node 0 is the work, the last two are the drain valve and its outlet. */
typedef struct network {
    int n_nodes, n_pipes;
    int height_cm[MAX_NODES];
    int end[MAX_PIPES][2];
    int length_cm[MAX_PIPES];
    char name[MAX_NODES][8], pipe[MAX_PIPES][24];
} network;

static kit_random random_state;

static int pick(int n)
{
    return (int)kit_below(&random_state, (uint32_t)n);
}

static void add_pipe(network *net, int a, int b)
{
    int p = net->n_pipes++;
    net->end[p][0] = a;
    net->end[p][1] = b;
    net->length_cm[p] = 10 * (1 + pick(20));
    snprintf(net->pipe[p], sizeof net->pipe[p], "P%d", p);
}

static void random_network(network *net)
{
    int inner = 2 + pick(MAX_NODES - 3);
    memset(net, 0, sizeof *net);
    net->n_nodes = inner + 2;
    for (int i = 0; i < net->n_nodes; i++) {
        net->height_cm[i] = 50 * pick(7);
        snprintf(net->name[i], sizeof net->name[i],
                 i < inner    ? "N%d"
                 : i == inner ? "DV"
                              : "OUT",
                 i);
    }
    if (pick(4) != 0)
        net->height_cm[inner] = net->height_cm[inner + 1] = 0; /* the drain lies low */
    for (int i = 1; i < inner; i++) add_pipe(net, pick(i), i);
    for (int extra = pick(4); extra > 0; extra--) {
        int a = pick(inner), b = pick(inner);
        if (a != b) add_pipe(net, a, b);
    }
    add_pipe(net, pick(inner), inner);
    add_pipe(net, inner, inner + 1);
}

static void write_plant(still_buf *text, const network *net)
{
    int dv = net->n_nodes - 2;
    /* The point stands high above all, so that it never holds a pocket itself. */
    still_buf_printf(
        text,
        "limit L-1; hand HV-1 elevation=100_m; shut DV elevation=%d_mm; drain OUT elevation=%d_mm;",
        10 * net->height_cm[dv], 10 * net->height_cm[dv + 1]);
    for (int i = 0; i < dv; i++)
        still_buf_printf(text, "%s %s elevation=%d_mm;", i == 0 ? "strainer" : "tee", net->name[i],
                         10 * net->height_cm[i]);
    still_buf_printf(text,
                     "run service=W L-1 HV-1; pipe P-in HV-1.out N0.inlet service=W length=0_m;");
    for (int p = 0; p < net->n_pipes; p++) {
        char from[24], to[24];
        int a = net->end[p][0], b = net->end[p][1];
        snprintf(from, sizeof from, a == dv ? "%s.out" : "%s.a%d", net->name[a], p);
        snprintf(to, sizeof to, b == dv || b == dv + 1 ? "%s.in" : "%s.b%d", net->name[b], p);
        still_buf_printf(text, "pipe %s %s %s service=W length=%d_mm;", net->pipe[p], from, to,
                         10 * net->length_cm[p]);
    }
}

/* Lowest of the highest elevations over all simple ways from a node to the outlet. */
static int level(const network *net, int node, unsigned seen, int highest)
{
    int best = 1000000;
    if (net->height_cm[node] > highest) highest = net->height_cm[node];
    if (node == net->n_nodes - 1) return highest;
    seen |= 1U << node;
    for (int p = 0; p < net->n_pipes; p++) {
        for (int k = 0; k < 2; k++) {
            int other = net->end[p][1 - k];
            if (net->end[p][k] != node || seen >> other & 1) continue;
            int got = level(net, other, seen, highest);
            if (got < best) best = got;
        }
    }
    return best;
}

/* Group the nodes that keep liquid: by node, number of its pocket, -1 = none. @return how many */
static int group(const network *net, int *pocket)
{
    int n = 0;
    bool changed = true;
    for (int i = 0; i < net->n_nodes; i++)
        pocket[i] = net->height_cm[i] < level(net, i, 0, -1) ? i : -1;
    while (changed) {
        changed = false;
        for (int p = 0; p < net->n_pipes; p++) {
            int *a = &pocket[net->end[p][0]], *b = &pocket[net->end[p][1]];
            if (*a < 0 || *b < 0 || *a == *b) continue;
            if (*a < *b)
                *b = *a;
            else
                *a = *b;
            changed = true;
        }
    }
    for (int i = 0; i < net->n_nodes; i++) n += pocket[i] == i;
    return n;
}

static int by_bytes(const void *pa, const void *pb)
{
    const char *const *a = pa, *const *b = pb;
    return strcmp(*a, *b);
}

/* Of a circle of radius 25 mm: its area below a height over its centre. */
static double disc(double t)
{
    const double R = 0.025, PI = 3.14159265358979323846;
    if (t <= -R) return 0;
    if (t >= R) return PI * R * R;
    return R * R * acos(-t / R) + t * sqrt(R * R - t * t);
}

static double sliced(double length, double low, double high, double surface)
{
    enum { SLICES = 4000 };
    double rise = high - low, straight = 0, bent = (length - rise) * disc(surface - low);
    double across = sqrt(length * length - rise * rise) / length;
    for (int i = 0; i < SLICES; i++) {
        double z = low + rise * (i + 0.5) / SLICES;
        double depth = across > 1e-9 ? (surface - z) / across : surface > z ? 1 : -1;
        straight += disc(depth) * length / SLICES;
        bent += (z < surface ? disc(1) : 0) * rise / SLICES;
    }
    return fmax(straight, bent);
}

static double pipe_below(const network *net, int p, int surface_cm)
{
    int a = net->height_cm[net->end[p][0]], b = net->height_cm[net->end[p][1]];
    double low = fmin(a, b) / 100, high = fmax(a, b) / 100;
    double length = fmax(net->length_cm[p] / 100.0, high - low);
    return sliced(length, low, high, surface_cm / 100.0);
}

/* The ids that a pocket must name, sorted, and its volume. */
static size_t contents_of(const network *net, const int *pocket, int number, const char **ids,
                          double *volume_m3)
{
    size_t n = 0;
    int surface_cm = level(net, number, 0, -1);
    *volume_m3 = 0;
    for (int i = 0; i < net->n_nodes; i++)
        if (pocket[i] == number) ids[n++] = net->name[i];
    if (pocket[0] == number) {
        ids[n++] = "P-in";
        *volume_m3 += disc(1) * (surface_cm - net->height_cm[0]) / 100.0;
    }
    for (int p = 0; p < net->n_pipes; p++) {
        if (pocket[net->end[p][0]] != number && pocket[net->end[p][1]] != number) continue;
        ids[n++] = net->pipe[p];
        *volume_m3 += pipe_below(net, p, surface_cm);
    }
    qsort(ids, n, sizeof ids[0], by_bytes);
    return n;
}

static bool has_pocket(const still_compartment *room, const char *const *ids, size_t n,
                       double volume_m3)
{
    for (size_t i = 0; i < room->n_pockets; i++) {
        const still_pocket *p = &room->pockets[i];
        bool same = p->ids.n == n && fabs(p->volume_m3 - volume_m3) < 1e-3 * volume_m3 &&
                    fabs(p->mass_kg - 1000 * p->volume_m3) < 1e-6;
        for (size_t k = 0; k < n && same; k++) same = strcmp(p->ids.items[k], ids[k]) == 0;
        if (same) return true;
    }
    return false;
}

static void compare(const network *net, kit *k, const char *text)
{
    int pocket[MAX_NODES];
    int n = group(net, pocket);
    const still_compartment *room = kit_room(k, "N0");
    assert_non_null(room);
    assert_true(room->drainage_shown);
    if (room->n_pockets != (size_t)n)
        print_error("%zu pockets, want %d\n%s\n", room->n_pockets, n, text);
    assert_int_equal(room->n_pockets, n);
    for (int i = 0; i < net->n_nodes; i++) {
        const char *ids[MAX_NODES + MAX_PIPES + 1];
        double volume_m3;
        if (pocket[i] != i) continue;
        size_t n_ids = contents_of(net, pocket, i, ids, &volume_m3);
        if (!has_pocket(room, ids, n_ids, volume_m3)) {
            print_error("no such pocket:");
            for (size_t q = 0; q < n_ids; q++) print_error(" %s", ids[q]);
            print_error(" (%g m3)\nthere are: %s\n%s\n", volume_m3, kit_ask(k, "pockets N0"), text);
        }
        assert_true(has_pocket(room, ids, n_ids, volume_m3));
        assert_non_null(kit_finding(k, "E3", NULL));
    }
}

static void E3_pockets_against_brute_force(void **given)
{
    int with = 0;
    (void)given;
    random_state.state = SEED;
    print_message("seed %d\n", SEED);
    for (int i = 0; i < PLANTS; i++) {
        network net;
        still_buf text = STILL_BUF_INIT;
        kit k;
        random_network(&net);
        write_plant(&text, &net);
        kit_open(&k, text.text);
        kit_plan(&k, "N0");
        compare(&net, &k, text.text);
        with += kit_room(&k, "N0")->n_pockets > 0;
        kit_close(&k);
        still_buf_clear(&text);
    }
    print_message("%d of %d plants have pockets\n", with, PLANTS);
    assert_in_range(with, PLANTS / 4, PLANTS - PLANTS / 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(E3_pockets_against_brute_force)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
