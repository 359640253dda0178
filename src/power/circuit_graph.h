/* The nodes of a network and what links them, while it is solved. */
#ifndef FW_POWER_CIRCUIT_GRAPH_H
#define FW_POWER_CIRCUIT_GRAPH_H

#include "power/circuit.h"

#include <stdint.h>

#define FW_CIRCUIT__NONE SIZE_MAX

/* From one node to another; each pair has one in either direction until one of
 * them is eliminated, then that one alone keeps it. */
struct fw_circuit__link {
    size_t to, next;
    double siemens;
    double between_ohm; /* entry of the inverse */
};

struct fw_circuit__node {
    size_t first; /* of its links */
    size_t degree;
    size_t seat; /* scratch: the link to this node from the one in hand */
    double leak_s;
    double all_s; /* leak and links, when it was eliminated */
    bool live, gone;
    double open_v, thevenin_ohm;
};

struct fw_circuit__graph {
    struct fw_circuit__node *nodes;
    struct fw_circuit__line *lines; /* of the sections */
    size_t *order;                  /* eliminated, the source left out */
    size_t order_count;
    double return_a; /* earth-return: the amps out of the energizer */
    struct fw_circuit__link *links;
    size_t link_count, link_capacity;
};

void fw_circuit__graph_release(struct fw_circuit__graph *graph);
enum fw_status fw_circuit__graph_new(const struct fw_circuit *net,
                                     struct fw_circuit__graph *graph,
                                     struct fw_error *err);
enum fw_status fw_circuit__add_link(struct fw_circuit__graph *graph,
                                    size_t from, size_t to, double siemens,
                                    struct fw_error *err);
size_t fw_circuit__find_link(const struct fw_circuit__graph *graph, size_t from,
                             size_t to);
enum fw_status fw_circuit__fill(const struct fw_circuit *net,
                                struct fw_circuit__graph *graph,
                                struct fw_error *err);
enum fw_status fw_circuit__add_pairs(const struct fw_circuit *net,
                                     struct fw_circuit__graph *graph,
                                     struct fw_error *err);
void fw_circuit__flood(struct fw_circuit__graph *graph, size_t source);
enum fw_status fw_circuit__refuse_dead(const struct fw_circuit *net,
                                       const struct fw_circuit__graph *graph,
                                       struct fw_error *err);

#endif
