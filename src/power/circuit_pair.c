/* Two wires side by side, one of them an earth: what lies between them. */
#include "power/circuit.h"

#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <math.h>

enum fw_status fw_circuit_add_pair(struct fw_circuit *net,
                                   const struct fw_circuit_pair *pair,
                                   struct fw_error *err)
{
    if (!net || !pair)
        return fw_fail_null(err, "a circuit or its pair");
    const enum fw_status status =
        fw_array_reserve(&net->pairs, &net->pair_capacity, net->pair_count + 1,
                         sizeof *pair, err);
    if (!status)
        net->pairs[net->pair_count++] = *pair;
    return status;
}

/* What is known of a pair, and how far along it the search is. */
struct search {
    struct fw_circuit__line lines[2];
    struct fw_circuit__ends ends[2];
    const struct fw_circuit_pair_answer *known;
    struct fw_circuit__touch touch; /* from wire to wire: no hooves */
};

static struct search begin(const struct fw_circuit *net,
                           const struct fw_circuit_answer *answer, size_t index,
                           const struct fw_circuit_pair_answer *known)
{
    const size_t of[2] = {net->pairs[index].hot, net->pairs[index].earth};
    struct search search = {.known = known, .touch = fw_circuit__touch(net)};
    search.touch.hooves_ohm = 0;
    for (size_t i = 0; i < 2; i++) {
        const struct fw_circuit_section *section = &net->sections[of[i]];
        const struct fw_circuit_volts *a = &answer->nodes[section->a].volts;
        const struct fw_circuit_volts *b = &answer->nodes[section->b].volts;
        search.lines[i] = fw_circuit__line(section);
        search.ends[i] = (struct fw_circuit__ends){
            a->open_v, b->open_v, a->thevenin_ohm,
            answer->sections[of[i]].between_ohm, b->thevenin_ohm};
    }
    return search;
}

/* An ampere in at one wire and out at the other. */
static struct fw_circuit_volts look_at(const struct search *search,
                                       double share)
{
    struct fw_circuit_volts wires[2];
    double weights[2][2], both_ohm = 0;
    for (size_t i = 0; i < 2; i++) {
        wires[i] = fw_circuit__inside(&search->lines[i], &search->ends[i],
                                      share, search->touch);
        fw_circuit__weights(&search->lines[i], share, &weights[i][0],
                            &weights[i][1]);
    }
    for (size_t k = 0; k < FW_PARTS(4); k++)
        both_ohm += weights[0][k / 2] * weights[1][k % 2] *
                    search->known->between_ohm[k / 2][k % 2];
    return fw_circuit__volts(
        wires[0].open_v - wires[1].open_v,
        fmax(wires[0].thevenin_ohm + wires[1].thevenin_ohm - 2 * both_ohm, 0),
        search->touch);
}

static double value(const struct search *search, double share, bool touched)
{
    const struct fw_circuit_volts volts = look_at(search, share);
    return touched ? volts.touched_v : volts.open_v;
}

/* No closed form for where it is least: the lowest of so many steps, and from
 * there by thirds. An end wins over what is lower by rounding alone. */
static double least_share(const struct search *search, bool touched)
{
    enum { steps = FW_EFFORT(32), thirds = FW_EFFORT(60) };
    const double rounding = FW_TOLERANCE(1e-12);
    double best = 0, least_v = value(search, 0, touched);
    for (int i = steps; i > 0; i--) {
        const double v = value(search, (double)i / steps, touched);
        if (v < least_v * (1 - rounding)) {
            least_v = v;
            best = (double)i / steps;
        }
    }
    double from = fmax(best - 1.0 / steps, 0);
    double to = fmin(best + 1.0 / steps, 1);
    for (int i = 0; i < thirds; i++) {
        const double third = (to - from) / FW_PARTS(3);
        if (value(search, from + third, touched) <
            value(search, to - third, touched))
            to -= third;
        else
            from += third;
    }
    const double inside = (from + to) / 2;
    return value(search, inside, touched) < least_v * (1 - rounding) ? inside
                                                                     : best;
}

void fw_circuit__pair_leasts(const struct fw_circuit *net,
                             const struct fw_circuit_answer *answer,
                             size_t pair, struct fw_circuit_pair_answer *out)
{
    const struct search search = begin(net, answer, pair, out);
    const double length_m = net->sections[net->pairs[pair].hot].length_m;
    double share = least_share(&search, true);
    out->least_touched_m = share * length_m;
    out->least_touched = look_at(&search, share);
    share = least_share(&search, false);
    out->least_open_m = share * length_m;
    out->least_open = look_at(&search, share);
}

enum fw_status fw_circuit_across(const struct fw_circuit *net,
                                 const struct fw_circuit_answer *answer,
                                 size_t pair, double at_m,
                                 struct fw_circuit_volts *out,
                                 struct fw_error *err)
{
    if (!net || !answer || !out)
        return fw_fail_null(err,
                            "a circuit, its answer, or where the volts go,");
    if (pair >= net->pair_count || answer->pair_count != net->pair_count)
        return fw_fail(err, FW_EINPUT,
                       "pair %zu is not in the network; it has %zu of them, "
                       "from 0",
                       pair, net->pair_count);
    const struct fw_circuit_station place = {net->pairs[pair].hot, at_m};
    const enum fw_status status = fw_circuit__check_place(net, place, err);
    if (status)
        return status;
    const struct fw_circuit_pair_answer *known = &answer->pairs[pair];
    const double length_m = net->sections[place.section].length_m;
    if (!known->live) {
        *out = known->least_touched;
        return FW_OK;
    }
    const struct search search = begin(net, answer, pair, known);
    *out = look_at(&search, length_m > 0 ? fmin(at_m / length_m, 1) : 0);
    return FW_OK;
}
