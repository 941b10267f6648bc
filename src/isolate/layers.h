/** @file layers.h  The least labelling of a zone, in one case of the search.
 *
 *  A labelling gives each piece a label: 0 = with the work, `outside` = with the sources. A device
 *  whose sides have labels that differ is a point (docs/METHOD.md, 3.2). A *case* restricts labels,
 *  devices and isolators; the search (search.h) splits cases until what a cut cannot say holds. */
#ifndef STILL_LAYERS_H
#define STILL_LAYERS_H

#include "flow.h"
#include "zone.h"

/** A feed that enters a piece: through a component there, as soon as its label is below `below`. */
typedef struct still_entry {
    uint32_t piece, comp, feed, isolator;
    uint8_t below; /**< 1: with the work; 2: also between (pumps and compressors taken inside) */
} still_entry;

/** What counts besides the sources: whole numbers, so that nothing is rounded. The plan itself is
 *  chosen with {1, 0, 0}; others are for alternatives (I4). */
typedef struct still_weights {
    uint32_t point; /**< a device or an isolator */
    uint32_t mass;  /**< a `mass_unit` enclosed, whole ones of each piece; an unknown mass counts
                         more than all that is known */
    uint32_t equipment; /**< a vessel, pump, compressor or exchanger out of service */
} still_weights;

/** Cases that a plan's search looks at, and those of an alternative's. */
#define STILL_MOST_CASES 10000
#define STILL_FEW_CASES 40

/** What all cases of a zone share. */
typedef struct still_layers {
    const still_zone *zone;
    still_weights weights;
    uint64_t mass_unit, unknown_units; /**< in grams; units that an unknown mass counts */
    bool proven_only;     /**< past the limit of cases no choice is looked for any more */
    bool unproved;        /**< no proof is wanted: the network of the first cut is not kept */
    uint32_t most_cases;  /**< after which the search gives up proving (METHOD 3.4) */
    bool free_sources;    /**< of a priced zone: sources cost nothing */
    uint32_t extra_bleed; /**< a pipe taken to have a bleed, to see whether it would help; or
                             STILL_NONE */
    uint32_t *isolators;  /**< feed number of each isolator within reach: its lowest feed by id */
    size_t n_isolators, isolators_cap;
    still_entry *entries;
    size_t n_entries, entries_cap;
    uint8_t *never_between; /**< by piece: 1 = it can't be bled, so no point of layer 2 has
                                 it on its inner side */
} still_layers;

/** Whether a piece, if it lies between, lies in a space that something stands behind. */
typedef enum still_life {
    STILL_LIFE_OPEN, /**< not settled */
    STILL_LIFE_LIVE, /**< it does: so it is bled */
    STILL_LIFE_DEAD  /**< it lies between, in a space that nothing stands behind */
} still_life;

/** A cell of a space between, and the cell with the outlet that bleeds it (bleedways.h). */
typedef struct still_serve {
    uint32_t cell, outlet;
} still_serve;

/** One case. Arrays of bytes. */
typedef struct still_case {
    uint8_t *low, *high; /**< by piece: labels allowed */
    uint8_t *hole;       /**< by piece: 1 = not label 1 */
    uint8_t *life;       /**< by piece: still_life */
    uint8_t *alike;      /**< by device: 1 = no point */
    uint8_t
        *extra; /**< by device: closed, though its sides have one label: 1 + position, 0 = not */
    uint8_t *position;   /**< by device: three-way: 1 + position that it has as a point; 0 = open */
    uint8_t *locked;     /**< by isolator: 1 = locked in any event */
    still_serve *serves; /**< which cell is bled by which: a list */
    uint32_t n_serves;
    const struct still_bleed_ties *ties; /**< while it is solved: what bleeds ask; or NULL */
} still_case;

/** Cost, in the order in which it counts (I4). */
typedef struct still_labelling {
    uint8_t *
        label; /**< by piece (out of play: its `outside`), then by device: as `extra` of the case */
    uint32_t sources;
    bool free_sources; /**< they do not count in comparisons */
    uint64_t bound; /**< by the cut: what the case costs at least, in the weights of the layers */
    uint64_t cost;  /**< by its devices, isolators and pieces: what it costs in truth */
    uint32_t *lock; /**< numbers of the isolators that it needs, ascending */
    uint32_t n_lock;
    bool mass_unknown;
    uint64_t grams;
    const char **ids; /**< counted ids, bytewise ascending; borrowed texts */
    uint32_t n_ids;
} still_labelling;

/** What an edge of the network stands for. */
typedef struct still_edge_of {
    uint32_t device;   /**< device crossed and paid for, or STILL_NONE */
    uint32_t over;     /**< device crossed free, or STILL_NONE */
    uint32_t entry;    /**< entry of a feed: piece → isolator, or STILL_NONE */
    uint32_t isolator; /**< isolator → sink, or STILL_NONE */
    uint32_t layer;    /**< of the device paid for */
} still_edge_of;

/** The network of a case, its flow: kept for the proof. */
typedef struct still_network {
    still_net net;
    still_flow flow;
    still_edge_of *edge_of;
    size_t edges_cap;
    uint32_t *piece_of, *layer_of; /**< by node; STILL_NONE = source, sink, isolator, inner node */
    uint32_t *node0;               /**< by piece: node of layer 1 */
    uint32_t n_nodes;
} still_network;

/** Weights {1, 0, 0}. @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_layers_build(still_layers *layers, const still_zone *zone);
/** What a piece costs while it is enclosed, in the weights of the layers. */
uint32_t still_piece_cost(const still_layers *layers, uint32_t piece);
void still_layers_clear(still_layers *layers);

/** A case without restrictions. @return STILL_OK, STILL_E_NOMEM. Clear in every case. */
STILL_NODISCARD still_status still_case_open(still_case *c, const still_layers *layers);
STILL_NODISCARD still_status still_case_copy(still_case *c, const still_case *from,
                                             const still_layers *layers);
/** Add a cell and its outlet. @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_case_serve(still_case *c, uint32_t cell, uint32_t outlet);
void still_case_clear(still_case *c);

/** Least labelling of a case by (sources, points, mass, ids).
 *  @param[out] out   still_labelling_clear; set when *feasible
 *  @param[out] keep  NULL, or gets the network (still_network_clear; flow of the last stage)
 *  @return STILL_OK, STILL_E_NOMEM, STILL_E_INTERNAL */
STILL_NODISCARD still_status still_layers_solve(still_labelling *out, bool *feasible,
                                                const still_layers *layers, const still_case *c,
                                                still_network *keep);
void still_labelling_clear(still_labelling *l);
void still_network_clear(still_network *n);
/** In the order of cost: < 0 = a is better. */
int still_labelling_compare(const still_labelling *a, const still_labelling *b);
/** A device is closed though its sides have one label. */
static inline bool still_is_extra(const still_zone *zone, const uint8_t *label,
                                  const still_device *device)
{
    return label[zone->n_pieces + (size_t)(device - zone->devices)] != 0;
}
/** An extra point parts side a from side b. */
static inline bool still_extra_parts(const still_zone *zone, const uint8_t *label,
                                     const still_device *device, int a, int b)
{
    uint8_t set = label[zone->n_pieces + (size_t)(device - zone->devices)];
    if (set == 0) return false;
    return device->n == 2 || (device->joined[set - 1] >> a & device->joined[set - 1] >> b & 1) == 0;
}
/** A device is a point: the labels of its sides differ, or it is an extra one. */
bool still_is_point(const still_zone *zone, const uint8_t *label, const still_device *device);
/** The piece takes part in labels: reached, and no wall. */
static inline bool still_in_play(const still_piece *piece)
{
    return piece->top != UINT8_MAX && !piece->wall;
}

#endif
