/* A network taken to pieces: nodes, links, and what has a path to the source.
 */
#include "power/circuit_graph.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <math.h>

void fw_circuit__graph_release(struct fw_circuit__graph *graph)
{
    fw_free(graph->nodes);
    fw_free(graph->lines);
    fw_free(graph->order);
    fw_free(graph->links);
}

enum fw_status fw_circuit__graph_new(const struct fw_circuit *net,
                                     struct fw_circuit__graph *graph,
                                     struct fw_error *err)
{
    graph->nodes = fw_alloc(net->node_count, sizeof *graph->nodes);
    graph->lines = fw_alloc(net->section_count, sizeof *graph->lines);
    graph->order = fw_alloc(net->node_count, sizeof *graph->order);
    if (!graph->nodes || !graph->lines || !graph->order)
        return fw_fail_memory(err);
    for (size_t i = 0; i < net->node_count; i++) {
        graph->nodes[i].first = FW_CIRCUIT__NONE;
        graph->nodes[i].seat = FW_CIRCUIT__NONE;
    }
    return fw_array_reserve(&graph->links, &graph->link_capacity,
                            2 * net->section_count + 1, sizeof *graph->links,
                            err);
}

enum fw_status fw_circuit__add_link(struct fw_circuit__graph *graph,
                                    size_t from, size_t to, double siemens,
                                    struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&graph->links, &graph->link_capacity,
                         graph->link_count + 1, sizeof *graph->links, err);
    if (status)
        return status;
    struct fw_circuit__node *node = &graph->nodes[from];
    graph->links[graph->link_count] = (struct fw_circuit__link){
        .to = to, .next = node->first, .siemens = siemens};
    node->first = graph->link_count++;
    node->degree++;
    return FW_OK;
}

/* The link between two nodes, from whichever of them has it; FW_CIRCUIT__NONE.
 */
size_t fw_circuit__find_link(const struct fw_circuit__graph *graph, size_t from,
                             size_t to)
{
    size_t l = graph->nodes[from].first;
    while (l != FW_CIRCUIT__NONE && graph->links[l].to != to)
        l = graph->links[l].next;
    return l;
}

static enum fw_status join(struct fw_circuit__graph *graph, size_t a, size_t b,
                           double siemens, struct fw_error *err)
{
    const size_t there = fw_circuit__find_link(graph, a, b);
    if (there != FW_CIRCUIT__NONE) {
        graph->links[there].siemens += siemens;
        graph->links[fw_circuit__find_link(graph, b, a)].siemens += siemens;
        return FW_OK;
    }
    const enum fw_status status =
        fw_circuit__add_link(graph, a, b, siemens, err);
    return status ? status : fw_circuit__add_link(graph, b, a, siemens, err);
}

/* The rods are a leak of the one terminal. What the energizer is between both
 * comes in when nothing but them is left, so that what the fence takes is known
 * apart from it. */
static enum fw_status fill_return(const struct fw_circuit *net,
                                  struct fw_circuit__graph *graph,
                                  struct fw_error *err)
{
    graph->nodes[net->earth_node].leak_s +=
        1 / fmax(net->source.earth_ohm, FW_CIRCUIT_LEAST_OHM);
    return join(graph, net->source.node, net->earth_node, 0, err);
}

enum fw_status fw_circuit__fill(const struct fw_circuit *net,
                                struct fw_circuit__graph *graph,
                                struct fw_error *err)
{
    for (size_t i = 0; i < net->section_count; i++) {
        const struct fw_circuit_section *section = &net->sections[i];
        const struct fw_circuit__line line = fw_circuit__line(section);
        graph->lines[i] = line;
        graph->nodes[section->a].leak_s += line.end_siemens;
        graph->nodes[section->b].leak_s += line.end_siemens;
        if (section->a == section->b)
            continue;
        const enum fw_status status =
            join(graph, section->a, section->b, line.siemens, err);
        if (status)
            return status;
    }
    for (size_t i = 0; i < net->shunt_count; i++)
        graph->nodes[net->shunts[i].node].leak_s +=
            1 / fmax(net->shunts[i].ohm, FW_CIRCUIT_LEAST_OHM);
    return net->earth_return ? fill_return(net, graph, err) : FW_OK;
}

/* No current between them, but their volts are asked together. */
enum fw_status fw_circuit__add_pairs(const struct fw_circuit *net,
                                     struct fw_circuit__graph *graph,
                                     struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < net->pair_count && !status; i++) {
        const struct fw_circuit_section *hot =
            &net->sections[net->pairs[i].hot];
        const struct fw_circuit_section *earth =
            &net->sections[net->pairs[i].earth];
        const size_t from[2] = {hot->a, hot->b}, to[2] = {earth->a, earth->b};
        if (!graph->nodes[hot->a].live || !graph->nodes[earth->a].live)
            continue;
        for (size_t k = 0; k < FW_PARTS(4) && !status; k++)
            if (from[k / 2] != to[k % 2])
                status = join(graph, from[k / 2], to[k % 2], 0, err);
    }
    return status;
}

/* ---- what has a path to the source ---- */

void fw_circuit__flood(struct fw_circuit__graph *graph, size_t source)
{
    size_t *waiting = graph->order; /* not in use yet */
    size_t count = 0;
    graph->nodes[source].live = true;
    waiting[count++] = source;
    while (count > 0) {
        const struct fw_circuit__node *node = &graph->nodes[waiting[--count]];
        for (size_t l = node->first; l != FW_CIRCUIT__NONE;
             l = graph->links[l].next) {
            const size_t to = graph->links[l].to;
            if (graph->nodes[to].live)
                continue;
            graph->nodes[to].live = true;
            waiting[count++] = to;
        }
    }
}

enum fw_status fw_circuit__refuse_dead(const struct fw_circuit *net,
                                       const struct fw_circuit__graph *graph,
                                       struct fw_error *err)
{
    size_t dead = 0, count = 0;
    while (dead < net->node_count && graph->nodes[dead].live)
        dead++;
    if (dead == net->node_count)
        return FW_OK;
    for (size_t i = dead; i < net->node_count; i++)
        count += !graph->nodes[i].live;
    size_t on_it = 0;
    while (on_it < net->section_count && net->sections[on_it].a != dead &&
           net->sections[on_it].b != dead)
        on_it++;
    if (on_it == net->section_count)
        return fw_fail(err, FW_EINPUT,
                       "node %zu, with no section on it, has no path to the "
                       "energizer at node %zu, one of %zu such nodes; join it "
                       "to the fence or leave it out",
                       dead, net->source.node, count);
    return fw_fail(err, FW_EINPUT,
                   "node %zu and section %zu on it have no path to the "
                   "energizer at node %zu, one of %zu such nodes; join them to "
                   "the fence or leave them out",
                   dead, on_it, net->source.node, count);
}
