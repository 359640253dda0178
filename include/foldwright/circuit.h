/* The fence as an electric circuit: what a tester shows at every place, and
 * what is left of it while a sheep touches the wire there.
 *
 * Peak values and pure resistance: wire that resists and leaks evenly along
 * its length, shorts, switches and limiters, one energizer behind its internal
 * and its earth resistance. The ground, at 0 V, is the common return; where it
 * conducts badly a wire may be one beside it, and then a sheep may touch two
 * wires at once. A caller makes the network from a plan; here are no maps. */
#ifndef FW_CIRCUIT_H
#define FW_CIRCUIT_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* IEC 60335-2-76 as quoted in print rates energizers at 500 ohm. */
#define FW_CIRCUIT_BODY_OHM 500.0
/* A joint or short of less counts as so much: nothing beside a contact. */
#define FW_CIRCUIT_LEAST_OHM 1e-6
#define FW_CIRCUIT_MOST_NODES 5000
#define FW_CIRCUIT_MOST_SECTIONS 10000

/* A length of fence between two nodes, or, with length_m 0, a plain resistance
 * between them. Both ends at one node: a ring fed at one place. */
struct fw_circuit_section {
    size_t a, b;      /* nodes */
    double length_m;  /* distances along it count from a */
    double ohm_m;     /* series, of all bonded strands together: r / strands */
    double siemens_m; /* leakage, of all its strands */
    double ohm;       /* a switch, joint or limiter; only with length_m 0 */
};

/* From a node to earth: grass on a joint, a fallen wire, a broken insulator. */
struct fw_circuit_shunt {
    size_t node;
    double ohm;
};

struct fw_circuit_source {
    size_t node;
    double open_v; /* of the energizer alone */
    double internal_ohm;
    double earth_ohm; /* of its rods */
};

/* Two sections of one length side by side, both counted from their nodes a: a
 * hot wire, and one that is an earth. A sheep may touch both. */
struct fw_circuit_pair {
    size_t hot, earth;
};

/* {0} is an empty one; release when done. Set node_count by hand: nodes are 0
 * to node_count - 1. */
struct fw_circuit {
    size_t node_count;
    struct fw_circuit_section *sections;
    size_t section_count, section_capacity;
    struct fw_circuit_shunt *shunts;
    size_t shunt_count, shunt_capacity;
    struct fw_circuit_source source;
    bool has_source;
    double body_ohm;   /* 0: FW_CIRCUIT_BODY_OHM */
    double hooves_ohm; /* in series with a body that touches one wire: of the
                          ground it stands on, beyond what body_ohm has of it */
    /* Earth-return: the energizer's other terminal, from which the rods lead
     * into the ground and earth wires along the fence. Else both are 0. */
    bool earth_return;
    size_t earth_node;
    struct fw_circuit_pair *pairs; /* what may be touched at once */
    size_t pair_count, pair_capacity;
    bool dead_parts; /* true: what has no path to the source is answered with
                        live false and 0 V; false: it is refused by name */
};

/* These append only; fw_circuit_solve looks at the values. A second source is
 * FW_EINPUT: one fence, one energizer. */
FW_API enum fw_status
fw_circuit_add_section(struct fw_circuit *net,
                       const struct fw_circuit_section *section,
                       struct fw_error *err);
FW_API enum fw_status fw_circuit_add_shunt(struct fw_circuit *net, size_t node,
                                           double ohm, struct fw_error *err);
FW_API enum fw_status fw_circuit_add_pair(struct fw_circuit *net,
                                          const struct fw_circuit_pair *pair,
                                          struct fw_error *err);
FW_API enum fw_status
fw_circuit_set_source(struct fw_circuit *net,
                      const struct fw_circuit_source *source,
                      struct fw_error *err);
FW_API enum fw_status fw_circuit_copy(const struct fw_circuit *net,
                                      struct fw_circuit *out,
                                      struct fw_error *err);
FW_API void fw_circuit_release(struct fw_circuit *net);

/* Leakage per metre of fence of so many ohm km (a kilometre of it leaks as
 * that many ohm would). INFINITY: 0. */
FW_API double fw_circuit_siemens_m(double leakage_ohm_km);

/* What holds at one place. Where no path leads to the source: 0 V and an
 * infinite Thevenin resistance. */
struct fw_circuit_volts {
    double open_v;       /* on a tester */
    double thevenin_ohm; /* seen there */
    double touched_v;    /* over the body between wire and ground; of a pair
                            between its wires */
};

struct fw_circuit_station {
    size_t section;
    double at_m; /* from the section's node a */
};

struct fw_circuit_node_answer {
    bool live;
    struct fw_circuit_volts volts;
};

/* Amps are right to a few parts in 1e16 of the volts over the section's ohms,
 * the leasts to 1e-8 of the energizer's open volts. */
struct fw_circuit_section_answer {
    bool live;
    double in_a;   /* amps into the section at node a; negative: out of it */
    double out_a;  /* amps out of it at node b; in_a less what leaks */
    double loss_w; /* wire and leakage, at the peak */
    double between_ohm; /* volts at one end for an ampere into the other */
    double least_touched_m, least_open_m; /* where, from node a */
    struct fw_circuit_volts least_touched, least_open;
};

/* Between the wires of a pair; the leasts to 1e-6 of a volt's share. */
struct fw_circuit_pair_answer {
    bool live;                /* both are */
    double between_ohm[2][2]; /* from the hot one's ends a and b to the other's
                               */
    double least_touched_m, least_open_m; /* where, from the nodes a */
    struct fw_circuit_volts least_touched, least_open;
};

/* Release when done. */
struct fw_circuit_answer {
    struct fw_circuit_node_answer *nodes; /* node_count of the network */
    struct fw_circuit_section_answer *sections;
    struct fw_circuit_pair_answer *pairs;
    size_t node_count, section_count, pair_count;
    double source_a; /* out of the energizer */
    double load_ohm; /* that it sees, the earth of its rods left out; infinite:
                        nothing leaks */
    double rods_v;   /* on its rods: what flows through them x earth_ohm */
};

/* FW_EINPUT: no source, a value out of its range, a node or pair out of range,
 * or, unless dead_parts, a part without a path to the source. On failure *out
 * is unchanged. */
FW_API enum fw_status fw_circuit_solve(const struct fw_circuit *net,
                                       struct fw_circuit_answer *out,
                                       struct fw_error *err);
FW_API void fw_circuit_answer_release(struct fw_circuit_answer *answer);

/* At any place along a section; answer is the network's own. */
FW_API enum fw_status fw_circuit_at(const struct fw_circuit *net,
                                    const struct fw_circuit_answer *answer,
                                    struct fw_circuit_station place,
                                    struct fw_circuit_volts *out,
                                    struct fw_error *err);

/* Between the wires of a pair. */
FW_API enum fw_status fw_circuit_across(const struct fw_circuit *net,
                                        const struct fw_circuit_answer *answer,
                                        size_t pair, double at_m,
                                        struct fw_circuit_volts *out,
                                        struct fw_error *err);

#ifdef __cplusplus
}
#endif
#endif
