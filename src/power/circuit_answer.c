/* What is asked of a solved network. */
#include "power/circuit.h"

#include "base/fail.h"
#include <math.h>

static enum fw_status check_answer(const struct fw_circuit *net,
                                   const struct fw_circuit_answer *answer,
                                   struct fw_error *err)
{
    if (answer->node_count == net->node_count &&
        answer->section_count == net->section_count)
        return FW_OK;
    return fw_fail(err, FW_EUSAGE,
                   "the answer has %zu nodes and %zu sections, the network %zu "
                   "and %zu; solve it again after a change",
                   answer->node_count, answer->section_count, net->node_count,
                   net->section_count);
}

enum fw_status fw_circuit_at(const struct fw_circuit *net,
                             const struct fw_circuit_answer *answer,
                             struct fw_circuit_station place,
                             struct fw_circuit_volts *out, struct fw_error *err)
{
    if (!net || !answer || !out)
        return fw_fail_null(err,
                            "a circuit, its answer, or where the volts go,");
    enum fw_status status = check_answer(net, answer, err);
    if (!status)
        status = fw_circuit__check_place(net, place, err);
    if (status)
        return status;
    const struct fw_circuit_section *section = &net->sections[place.section];
    const struct fw_circuit_section_answer *known =
        &answer->sections[place.section];
    const struct fw_circuit_volts a = answer->nodes[section->a].volts;
    const struct fw_circuit_volts b = answer->nodes[section->b].volts;
    if (!known->live || !(place.at_m > 0)) {
        *out = a;
        return FW_OK;
    }
    const struct fw_circuit__line line = fw_circuit__line(section);
    const struct fw_circuit__ends ends = {a.open_v, b.open_v, a.thevenin_ohm,
                                          known->between_ohm, b.thevenin_ohm};
    *out = fw_circuit__inside(&line, &ends,
                              fmin(place.at_m / section->length_m, 1),
                              fw_circuit__touch(net));
    return FW_OK;
}

struct fw_circuit_losses
fw_circuit_losses(const struct fw_circuit *net,
                  const struct fw_circuit_answer *answer)
{
    const double amps = answer->source_a;
    struct fw_circuit_losses out = {
        .source_w = net->source.open_v * amps,
        .internal_w = net->source.internal_ohm * amps * amps,
        .earth_w = answer->rods_v * answer->rods_v /
                   fmax(net->source.earth_ohm, FW_CIRCUIT_LEAST_OHM),
    };
    for (size_t i = 0; i < answer->section_count; i++)
        out.sections_w += answer->sections[i].loss_w;
    for (size_t i = 0; i < net->shunt_count; i++) {
        const double v = answer->nodes[net->shunts[i].node].volts.open_v;
        out.shunts_w += v * v / fmax(net->shunts[i].ohm, FW_CIRCUIT_LEAST_OHM);
    }
    return out;
}
