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
#include "base/fail.h"
#include "figures/mark.h"
#include "power/circuit_graph.h"

#include <math.h>

/* ---- elimination ---- */

/* None of the nodes that are left has fewer neighbours than `least`, nor has
 * one before `from` as few: nets of thousands of nodes are not gone through for
 * each. One neighbour is as few as can be. */
struct search {
    size_t from, least;
};

static size_t neighbours(const struct fw_circuit__graph *graph, size_t i)
{
    return graph->nodes[i].degree > 1 ? graph->nodes[i].degree : 1;
}

static bool is_left(const struct fw_circuit__graph *graph,
                    const struct fw_circuit *net, size_t i)
{
    return graph->nodes[i].live && !graph->nodes[i].gone &&
           i != net->source.node &&
           !(net->earth_return && i == net->earth_node);
}

/* The live node with fewest neighbours, the first of them; FW_CIRCUIT__NONE but
 * the energizer's terminals is left in the end. */
static size_t next_out(const struct fw_circuit__graph *graph,
                       const struct fw_circuit *net, struct search *search)
{
    for (size_t i = search->from; i < net->node_count; i++)
        if (is_left(graph, net, i) && neighbours(graph, i) <= search->least) {
            search->from = i;
            return i;
        }
    size_t best = FW_CIRCUIT__NONE;
    for (size_t i = 0; i < net->node_count; i++)
        if (is_left(graph, net, i) &&
            (best == FW_CIRCUIT__NONE ||
             neighbours(graph, i) < neighbours(graph, best)))
            best = i;
    if (best != FW_CIRCUIT__NONE)
        *search = (struct search){best, neighbours(graph, best)};
    return best;
}

/* Of those that are left only what adjoined the one that went has others now.
 */
static void follow(const struct fw_circuit__graph *graph,
                   const struct fw_circuit *net, size_t gone,
                   struct search *search)
{
    for (size_t l = graph->nodes[gone].first; l != FW_CIRCUIT__NONE;
         l = graph->links[l].next) {
        const size_t to = graph->links[l].to;
        if (!is_left(graph, net, to))
            continue;
        const size_t count = neighbours(graph, to);
        if (count < search->least ||
            (count == search->least && to < search->from))
            *search = (struct search){to, count};
    }
}

/* Seat the neighbours of `from`, and cut its link to `away`. */
static void seat_all(struct fw_circuit__graph *graph, size_t from, size_t away)
{
    size_t *at = &graph->nodes[from].first;
    while (*at != FW_CIRCUIT__NONE) {
        struct fw_circuit__link *link = &graph->links[*at];
        if (link->to == away) {
            *at = link->next;
            graph->nodes[from].degree--;
        } else {
            graph->nodes[link->to].seat = *at;
            at = &link->next;
        }
    }
}

static void unseat_all(struct fw_circuit__graph *graph, size_t from)
{
    for (size_t l = graph->nodes[from].first; l != FW_CIRCUIT__NONE;
         l = graph->links[l].next)
        graph->nodes[graph->links[l].to].seat = FW_CIRCUIT__NONE;
}

/* What neighbour `mine` of node `out` gets when that goes. */
static enum fw_status inherit(struct fw_circuit__graph *graph, size_t out,
                              size_t mine, struct fw_error *err)
{
    const size_t self = graph->links[mine].to;
    const double siemens = graph->links[mine].siemens;
    const double all_s = graph->nodes[out].all_s;
    enum fw_status status = FW_OK;
    graph->nodes[self].leak_s += siemens * graph->nodes[out].leak_s / all_s;
    seat_all(graph, self, out);
    for (size_t l = graph->nodes[out].first; l != FW_CIRCUIT__NONE && !status;
         l = graph->links[l].next) {
        if (l == mine)
            continue;
        const size_t seat = graph->nodes[graph->links[l].to].seat;
        const double more_s = siemens * graph->links[l].siemens / all_s;
        if (seat != FW_CIRCUIT__NONE)
            graph->links[seat].siemens += more_s;
        else
            status = fw_circuit__add_link(graph, self, graph->links[l].to,
                                          more_s, err);
    }
    unseat_all(graph, self);
    return status;
}

static enum fw_status eliminate(struct fw_circuit__graph *graph, size_t out,
                                struct fw_error *err)
{
    struct fw_circuit__node *node = &graph->nodes[out];
    node->all_s = node->leak_s;
    for (size_t l = node->first; l != FW_CIRCUIT__NONE;
         l = graph->links[l].next)
        node->all_s += graph->links[l].siemens;
    node->gone = true;
    graph->order[graph->order_count++] = out;
    enum fw_status status = FW_OK;
    for (size_t l = node->first; l != FW_CIRCUIT__NONE && !status;
         l = graph->links[l].next)
        status = inherit(graph, out, l, err);
    return status;
}

/* ---- back ---- */

/* Volts, and column of the inverse, of a node from its later neighbours. */
static void put_back(struct fw_circuit__graph *graph, size_t in)
{
    struct fw_circuit__node *node = &graph->nodes[in];
    for (size_t l = node->first; l != FW_CIRCUIT__NONE;
         l = graph->links[l].next) {
        struct fw_circuit__link *link = &graph->links[l];
        graph->nodes[link->to].seat = l;
        link->between_ohm =
            link->siemens / node->all_s * graph->nodes[link->to].thevenin_ohm;
    }
    for (size_t l = node->first; l != FW_CIRCUIT__NONE;
         l = graph->links[l].next) {
        struct fw_circuit__link *mine = &graph->links[l];
        const size_t to = mine->to;
        for (size_t k = graph->nodes[to].first; k != FW_CIRCUIT__NONE;
             k = graph->links[k].next) {
            const struct fw_circuit__link *pair = &graph->links[k];
            const size_t seat = graph->nodes[pair->to].seat;
            if (seat == FW_CIRCUIT__NONE)
                continue;
            struct fw_circuit__link *other = &graph->links[seat];
            mine->between_ohm +=
                other->siemens / node->all_s * pair->between_ohm;
            other->between_ohm +=
                mine->siemens / node->all_s * pair->between_ohm;
        }
    }
    unseat_all(graph, in);
    node->open_v = 0;
    node->thevenin_ohm = 1 / node->all_s;
    for (size_t l = node->first; l != FW_CIRCUIT__NONE;
         l = graph->links[l].next) {
        const struct fw_circuit__link *link = &graph->links[l];
        const double part = link->siemens / node->all_s;
        node->open_v += part * graph->nodes[link->to].open_v;
        node->thevenin_ohm += part * link->between_ohm;
    }
}

/* With the ground as the one return: what stands before the fence is the
 * energizer and its rods in series. */
static void feed(const struct fw_circuit *net, struct fw_circuit__graph *graph)
{
    struct fw_circuit__node *fed = &graph->nodes[net->source.node];
    const double before_ohm = net->source.internal_ohm + net->source.earth_ohm;
    const double share = 1 / (1 + before_ohm * fed->leak_s);
    fed->open_v = net->source.open_v * share;
    fed->thevenin_ohm = before_ohm * share;
}

/* With a wire as return the energizer is its current into a short, between two
 * terminals that stay until all other nodes are gone, beside what resists
 * inside it. With the leaks a and b of the two and c between them, volts are as
 * b and -a over ab + ac + bc, so that here too nothing is subtracted. */
static enum fw_status feed_return(const struct fw_circuit *net,
                                  struct fw_circuit__graph *graph,
                                  struct fw_error *err)
{
    const size_t hot = net->source.node, cold = net->earth_node;
    struct fw_circuit__node *fed = &graph->nodes[hot];
    struct fw_circuit__node *earth = &graph->nodes[cold];
    struct fw_circuit__link *there =
        &graph->links[fw_circuit__find_link(graph, hot, cold)];
    struct fw_circuit__link *back =
        &graph->links[fw_circuit__find_link(graph, cold, hot)];
    const double inside_s =
        1 / fmax(net->source.internal_ohm, FW_CIRCUIT_LEAST_OHM);
    const double fed_leak_s = fed->leak_s, earth_leak_s = earth->leak_s;
    const double fence_s = there->siemens;
    there->siemens += inside_s;
    back->siemens += inside_s;
    const enum fw_status status = eliminate(graph, cold, err);
    if (status)
        return status;
    const double short_a = net->source.open_v * inside_s;
    const double v_per_s = short_a / (earth->all_s * fed->leak_s);
    fed->thevenin_ohm = 1 / fed->leak_s;
    fed->open_v = v_per_s * earth_leak_s;
    put_back(graph, cold);
    earth->open_v = -v_per_s * fed_leak_s;
    graph->return_a =
        fed_leak_s * fed->open_v + fence_s * (fed->open_v - earth->open_v);
    graph->order_count--;
    return FW_OK;
}

static enum fw_status run_through(const struct fw_circuit *net,
                                  struct fw_circuit__graph *graph,
                                  struct fw_error *err)
{
    enum fw_status status = FW_OK;
    struct search search = {0, 1};
    for (size_t out = next_out(graph, net, &search); out != FW_CIRCUIT__NONE;
         out = next_out(graph, net, &search)) {
        status = eliminate(graph, out, err);
        if (status)
            return status;
        follow(graph, net, out, &search);
    }
    if (net->earth_return)
        status = feed_return(net, graph, err);
    else
        feed(net, graph);
    for (size_t i = graph->order_count; !status && i-- > 0;)
        put_back(graph, graph->order[i]);
    return status;
}

/* ---- the answer ---- */

static struct fw_circuit_volts dead_volts(void)
{
    return (struct fw_circuit_volts){.thevenin_ohm = (double)INFINITY};
}

static double between_ohm(const struct fw_circuit__graph *graph, size_t a,
                          size_t b)
{
    if (a == b)
        return graph->nodes[a].thevenin_ohm;
    const size_t l = fw_circuit__find_link(graph, a, b);
    return graph
        ->links[l != FW_CIRCUIT__NONE ? l : fw_circuit__find_link(graph, b, a)]
        .between_ohm;
}

static struct fw_circuit_section_answer
section_answer(const struct fw_circuit *net,
               const struct fw_circuit__graph *graph, size_t index)
{
    const struct fw_circuit_section *section = &net->sections[index];
    const struct fw_circuit__line *line = &graph->lines[index];
    const struct fw_circuit__node *a = &graph->nodes[section->a];
    const struct fw_circuit__node *b = &graph->nodes[section->b];
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
    fw_circuit__leasts(line, &ends, section->length_m, fw_circuit__touch(net),
                       &out);
    return out;
}

static struct fw_circuit_pair_answer
pair_answer(const struct fw_circuit *net, const struct fw_circuit__graph *graph,
            const struct fw_circuit_answer *answer, size_t index)
{
    const struct fw_circuit_pair *pair = &net->pairs[index];
    const struct fw_circuit_section *hot = &net->sections[pair->hot];
    const struct fw_circuit_section *earth = &net->sections[pair->earth];
    const size_t from[2] = {hot->a, hot->b}, to[2] = {earth->a, earth->b};
    struct fw_circuit_pair_answer out = {.least_touched = dead_volts(),
                                         .least_open = dead_volts()};
    out.live = graph->nodes[hot->a].live && graph->nodes[earth->a].live;
    if (!out.live)
        return out;
    for (size_t k = 0; k < FW_PARTS(4); k++)
        out.between_ohm[k / 2][k % 2] =
            between_ohm(graph, from[k / 2], to[k % 2]);
    fw_circuit__pair_leasts(net, answer, index, &out);
    return out;
}

static void tell_source(const struct fw_circuit *net,
                        const struct fw_circuit__graph *graph,
                        struct fw_circuit_answer *out)
{
    const struct fw_circuit_source *source = &net->source;
    const struct fw_circuit__node *fed = &graph->nodes[source->node];
    if (net->earth_return) {
        const double earth_v = graph->nodes[net->earth_node].open_v;
        out->source_a = graph->return_a;
        out->load_ohm = graph->return_a > 0
                            ? (fed->open_v - earth_v) / graph->return_a
                            : (double)INFINITY;
        out->rods_v = -earth_v;
        return;
    }
    out->source_a = fed->open_v * fed->leak_s;
    out->load_ohm = fed->leak_s > 0 ? 1 / fed->leak_s : (double)INFINITY;
    out->rods_v = out->source_a * source->earth_ohm;
}

static enum fw_status tell(const struct fw_circuit *net,
                           const struct fw_circuit__graph *graph,
                           struct fw_circuit_answer *out, struct fw_error *err)
{
    struct fw_circuit_answer answer = {.node_count = net->node_count,
                                       .section_count = net->section_count,
                                       .pair_count = net->pair_count};
    answer.nodes = fw_alloc(net->node_count, sizeof *answer.nodes);
    answer.sections = fw_alloc(net->section_count, sizeof *answer.sections);
    answer.pairs = fw_alloc(net->pair_count, sizeof *answer.pairs);
    if (!answer.nodes || !answer.sections || !answer.pairs) {
        fw_circuit_answer_release(&answer);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < net->node_count; i++) {
        const struct fw_circuit__node *node = &graph->nodes[i];
        answer.nodes[i].live = node->live;
        answer.nodes[i].volts =
            node->live ? fw_circuit__volts(node->open_v, node->thevenin_ohm,
                                           fw_circuit__touch(net))
                       : dead_volts();
    }
    for (size_t i = 0; i < net->section_count; i++)
        answer.sections[i] = section_answer(net, graph, i);
    for (size_t i = 0; i < net->pair_count; i++)
        answer.pairs[i] = pair_answer(net, graph, &answer, i);
    tell_source(net, graph, &answer);
    *out = answer;
    return FW_OK;
}

enum fw_status fw_circuit_solve(const struct fw_circuit *net,
                                struct fw_circuit_answer *out,
                                struct fw_error *err)
{
    if (!net || !out)
        return fw_fail_null(err, "a circuit, or where its answer goes,");
    enum fw_status status = fw_circuit__check(net, err);
    if (status)
        return status;
    struct fw_circuit__graph graph = {0};
    status = fw_circuit__graph_new(net, &graph, err);
    if (!status)
        status = fw_circuit__fill(net, &graph, err);
    if (!status)
        fw_circuit__flood(&graph, net->source.node);
    if (!status && !net->dead_parts)
        status = fw_circuit__refuse_dead(net, &graph, err);
    if (!status)
        status = fw_circuit__add_pairs(net, &graph, err);
    if (!status)
        status = run_through(net, &graph, err);
    if (!status)
        status = tell(net, &graph, out, err);
    fw_circuit__graph_release(&graph);
    return status;
}

void fw_circuit_answer_release(struct fw_circuit_answer *answer)
{
    if (!answer)
        return;
    fw_free(answer->nodes);
    fw_free(answer->sections);
    fw_free(answer->pairs);
    *answer = (struct fw_circuit_answer){0};
}
