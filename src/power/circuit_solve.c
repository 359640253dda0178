/* Nodes are eliminated one at a time, fewest neighbours first, so that a tree
 * goes from its leaves inward without a new link and a loop costs one; the
 * source is last. Eliminating k joins its neighbours i and j with c_ik c_jk / D
 * more siemens and leaks c_ik g_k / D more at i, where D is all that k has. No
 * difference is taken anywhere: each result is right to the last few bits
 * however far apart the resistances are. What is left at the source is the
 * load.
 *
 * Back in the opposite order come the volts, and of the inverse those entries
 * that lie on links (Takahashi, Fagan and Chin 1973): its diagonal is the
 * Thevenin resistance of each node. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "power/circuit.h"

#include <math.h>
#include <stdint.h>

static const size_t none = SIZE_MAX;

/* From one node to another; each pair has one in either direction until one of
 * them is eliminated, then that one alone keeps it. */
struct link {
    size_t to, next;
    double siemens;
    double between_ohm; /* entry of the inverse */
};

struct node {
    size_t first; /* of its links */
    size_t degree;
    size_t seat; /* scratch: the link to this node from the one in hand */
    double leak_s;
    double all_s; /* leak and links, when it was eliminated */
    bool live, gone;
    double open_v, thevenin_ohm;
};

struct graph {
    struct node *nodes;
    struct fw_circuit__line *lines; /* of the sections */
    size_t *order;                  /* eliminated, the source left out */
    size_t order_count;
    struct link *links;
    size_t link_count, link_capacity;
};

static void graph_release(struct graph *graph)
{
    fw_free(graph->nodes);
    fw_free(graph->lines);
    fw_free(graph->order);
    fw_free(graph->links);
}

static enum fw_status graph_new(const struct fw_circuit *net,
                                struct graph *graph, struct fw_error *err)
{
    graph->nodes = fw_alloc(net->node_count, sizeof *graph->nodes);
    graph->lines = fw_alloc(net->section_count, sizeof *graph->lines);
    graph->order = fw_alloc(net->node_count, sizeof *graph->order);
    if (!graph->nodes || !graph->lines || !graph->order)
        return fw_fail_memory(err);
    for (size_t i = 0; i < net->node_count; i++) {
        graph->nodes[i].first = none;
        graph->nodes[i].seat = none;
    }
    return fw_array_reserve(&graph->links, &graph->link_capacity,
                            2 * net->section_count + 1, sizeof *graph->links,
                            err);
}

static enum fw_status add_link(struct graph *graph, size_t from, size_t to,
                               double siemens, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&graph->links, &graph->link_capacity,
                         graph->link_count + 1, sizeof *graph->links, err);
    if (status)
        return status;
    struct node *node = &graph->nodes[from];
    graph->links[graph->link_count] =
        (struct link){.to = to, .next = node->first, .siemens = siemens};
    node->first = graph->link_count++;
    node->degree++;
    return FW_OK;
}

/* The link between two nodes, from whichever of them has it; none. */
static size_t find_link(const struct graph *graph, size_t from, size_t to)
{
    size_t l = graph->nodes[from].first;
    while (l != none && graph->links[l].to != to)
        l = graph->links[l].next;
    return l;
}

static enum fw_status join(struct graph *graph, size_t a, size_t b,
                           double siemens, struct fw_error *err)
{
    const size_t there = find_link(graph, a, b);
    if (there != none) {
        graph->links[there].siemens += siemens;
        graph->links[find_link(graph, b, a)].siemens += siemens;
        return FW_OK;
    }
    const enum fw_status status = add_link(graph, a, b, siemens, err);
    return status ? status : add_link(graph, b, a, siemens, err);
}

static enum fw_status fill(const struct fw_circuit *net, struct graph *graph,
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
    return FW_OK;
}

/* ---- what has a path to the source ---- */

static void flood(struct graph *graph, size_t source)
{
    size_t *waiting = graph->order; /* not in use yet */
    size_t count = 0;
    graph->nodes[source].live = true;
    waiting[count++] = source;
    while (count > 0) {
        const struct node *node = &graph->nodes[waiting[--count]];
        for (size_t l = node->first; l != none; l = graph->links[l].next) {
            const size_t to = graph->links[l].to;
            if (graph->nodes[to].live)
                continue;
            graph->nodes[to].live = true;
            waiting[count++] = to;
        }
    }
}

static enum fw_status refuse_dead(const struct fw_circuit *net,
                                  const struct graph *graph,
                                  struct fw_error *err)
{
    size_t dead = 0, count = 0;
    for (size_t i = net->node_count; i-- > 0;)
        if (!graph->nodes[i].live) {
            dead = i;
            count++;
        }
    if (count == 0)
        return FW_OK;
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

/* ---- elimination ---- */

/* The live node with fewest neighbours, the first of them; the source only
 * when it is alone. */
static size_t next_out(const struct graph *graph, size_t node_count,
                       size_t source)
{
    size_t best = none;
    for (size_t i = 0; i < node_count; i++) {
        const struct node *node = &graph->nodes[i];
        if (best != none && graph->nodes[best].degree <= 1)
            break; /* none has fewer */
        if (node->live && !node->gone && i != source &&
            (best == none || node->degree < graph->nodes[best].degree))
            best = i;
    }
    return best;
}

/* Seat the neighbours of `from`, and cut its link to `away`. */
static void seat_all(struct graph *graph, size_t from, size_t away)
{
    size_t *at = &graph->nodes[from].first;
    while (*at != none) {
        struct link *link = &graph->links[*at];
        if (link->to == away) {
            *at = link->next;
            graph->nodes[from].degree--;
        } else {
            graph->nodes[link->to].seat = *at;
            at = &link->next;
        }
    }
}

static void unseat_all(struct graph *graph, size_t from)
{
    for (size_t l = graph->nodes[from].first; l != none;
         l = graph->links[l].next)
        graph->nodes[graph->links[l].to].seat = none;
}

/* What neighbour `mine` of node `out` gets when that goes. */
static enum fw_status inherit(struct graph *graph, size_t out, size_t mine,
                              struct fw_error *err)
{
    const size_t self = graph->links[mine].to;
    const double siemens = graph->links[mine].siemens;
    const double all_s = graph->nodes[out].all_s;
    enum fw_status status = FW_OK;
    graph->nodes[self].leak_s += siemens * graph->nodes[out].leak_s / all_s;
    seat_all(graph, self, out);
    for (size_t l = graph->nodes[out].first; l != none && !status;
         l = graph->links[l].next) {
        if (l == mine)
            continue;
        const size_t seat = graph->nodes[graph->links[l].to].seat;
        const double more_s = siemens * graph->links[l].siemens / all_s;
        if (seat != none)
            graph->links[seat].siemens += more_s;
        else
            status = add_link(graph, self, graph->links[l].to, more_s, err);
    }
    unseat_all(graph, self);
    return status;
}

static enum fw_status eliminate(struct graph *graph, size_t out,
                                struct fw_error *err)
{
    struct node *node = &graph->nodes[out];
    node->all_s = node->leak_s;
    for (size_t l = node->first; l != none; l = graph->links[l].next)
        node->all_s += graph->links[l].siemens;
    node->gone = true;
    graph->order[graph->order_count++] = out;
    enum fw_status status = FW_OK;
    for (size_t l = node->first; l != none && !status; l = graph->links[l].next)
        status = inherit(graph, out, l, err);
    return status;
}

/* ---- back ---- */

/* Volts, and column of the inverse, of a node from its later neighbours. */
static void put_back(struct graph *graph, size_t in)
{
    struct node *node = &graph->nodes[in];
    for (size_t l = node->first; l != none; l = graph->links[l].next) {
        struct link *link = &graph->links[l];
        graph->nodes[link->to].seat = l;
        link->between_ohm =
            link->siemens / node->all_s * graph->nodes[link->to].thevenin_ohm;
    }
    for (size_t l = node->first; l != none; l = graph->links[l].next) {
        struct link *mine = &graph->links[l];
        const size_t to = mine->to;
        for (size_t k = graph->nodes[to].first; k != none;
             k = graph->links[k].next) {
            const struct link *pair = &graph->links[k];
            const size_t seat = graph->nodes[pair->to].seat;
            if (seat == none)
                continue;
            struct link *other = &graph->links[seat];
            mine->between_ohm +=
                other->siemens / node->all_s * pair->between_ohm;
            other->between_ohm +=
                mine->siemens / node->all_s * pair->between_ohm;
        }
    }
    unseat_all(graph, in);
    node->open_v = 0;
    node->thevenin_ohm = 1 / node->all_s;
    for (size_t l = node->first; l != none; l = graph->links[l].next) {
        const struct link *link = &graph->links[l];
        const double part = link->siemens / node->all_s;
        node->open_v += part * graph->nodes[link->to].open_v;
        node->thevenin_ohm += part * link->between_ohm;
    }
}

static enum fw_status run_through(const struct fw_circuit *net,
                                  struct graph *graph, struct fw_error *err)
{
    const size_t source = net->source.node;
    for (size_t out = next_out(graph, net->node_count, source); out != none;
         out = next_out(graph, net->node_count, source)) {
        const enum fw_status status = eliminate(graph, out, err);
        if (status)
            return status;
    }
    struct node *fed = &graph->nodes[source];
    const double before_ohm = net->source.internal_ohm + net->source.earth_ohm;
    const double share = 1 / (1 + before_ohm * fed->leak_s);
    fed->open_v = net->source.open_v * share;
    fed->thevenin_ohm = before_ohm * share;
    for (size_t i = graph->order_count; i-- > 0;)
        put_back(graph, graph->order[i]);
    return FW_OK;
}

/* ---- the answer ---- */

static struct fw_circuit_volts dead_volts(void)
{
    return (struct fw_circuit_volts){.thevenin_ohm = (double)INFINITY};
}

static double between_ohm(const struct graph *graph, size_t a, size_t b)
{
    if (a == b)
        return graph->nodes[a].thevenin_ohm;
    const size_t l = find_link(graph, a, b);
    return graph->links[l != none ? l : find_link(graph, b, a)].between_ohm;
}

static struct fw_circuit_section_answer
section_answer(const struct fw_circuit *net, const struct graph *graph,
               size_t index)
{
    const struct fw_circuit_section *section = &net->sections[index];
    const struct fw_circuit__line *line = &graph->lines[index];
    const struct node *a = &graph->nodes[section->a];
    const struct node *b = &graph->nodes[section->b];
    if (!a->live)
        return (struct fw_circuit_section_answer){.least_touched = dead_volts(),
                                                  .least_open = dead_volts()};
    const struct fw_circuit__ends ends = {
        a->open_v, b->open_v, a->thevenin_ohm,
        between_ohm(graph, section->a, section->b), b->thevenin_ohm};
    const double along_v = ends.a_v - ends.b_v;
    struct fw_circuit_section_answer out = {
        .live = true,
        .in_a = line->siemens * along_v + line->end_siemens * ends.a_v,
        .out_a = line->siemens * along_v - line->end_siemens * ends.b_v,
        .loss_w =
            line->siemens * along_v * along_v +
            line->end_siemens * (ends.a_v * ends.a_v + ends.b_v * ends.b_v),
        .between_ohm = ends.ab_ohm,
    };
    fw_circuit__leasts(line, &ends, section->length_m,
                       fw_circuit__body_ohm(net), &out);
    return out;
}

static enum fw_status tell(const struct fw_circuit *net,
                           const struct graph *graph,
                           struct fw_circuit_answer *out, struct fw_error *err)
{
    struct fw_circuit_answer answer = {.node_count = net->node_count,
                                       .section_count = net->section_count};
    answer.nodes = fw_alloc(net->node_count, sizeof *answer.nodes);
    answer.sections = fw_alloc(net->section_count, sizeof *answer.sections);
    if (!answer.nodes || !answer.sections) {
        fw_circuit_answer_release(&answer);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < net->node_count; i++) {
        const struct node *node = &graph->nodes[i];
        answer.nodes[i].live = node->live;
        answer.nodes[i].volts =
            node->live ? fw_circuit__volts(node->open_v, node->thevenin_ohm,
                                           fw_circuit__body_ohm(net))
                       : dead_volts();
    }
    for (size_t i = 0; i < net->section_count; i++)
        answer.sections[i] = section_answer(net, graph, i);
    const struct node *fed = &graph->nodes[net->source.node];
    answer.source_a = fed->open_v * fed->leak_s;
    answer.load_ohm = fed->leak_s > 0 ? 1 / fed->leak_s : (double)INFINITY;
    answer.rods_v = answer.source_a * net->source.earth_ohm;
    *out = answer;
    return FW_OK;
}

enum fw_status fw_circuit_solve(const struct fw_circuit *net,
                                struct fw_circuit_answer *out,
                                struct fw_error *err)
{
    enum fw_status status = fw_circuit__check(net, err);
    if (status)
        return status;
    struct graph graph = {0};
    status = graph_new(net, &graph, err);
    if (!status)
        status = fill(net, &graph, err);
    if (!status)
        flood(&graph, net->source.node);
    if (!status && !net->dead_parts)
        status = refuse_dead(net, &graph, err);
    if (!status)
        status = run_through(net, &graph, err);
    if (!status)
        status = tell(net, &graph, out, err);
    graph_release(&graph);
    return status;
}

void fw_circuit_answer_release(struct fw_circuit_answer *answer)
{
    fw_free(answer->nodes);
    fw_free(answer->sections);
    *answer = (struct fw_circuit_answer){0};
}
