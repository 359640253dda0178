/* A circuit solved, and what a sheep and a tester have of each stretch. */
#include "live/live.h"

void fw_plan__solver_release(struct fw_plan__solver *solver)
{
    fw_plan__circuits_release(&solver->circuits);
    fw_plan_circuit_release(&solver->circuit);
    fw_circuit_answer_release(&solver->answer);
}

enum fw_status fw_plan__solve(struct fw_plan__solver *solver, int day,
                              const struct fw_plan_power *power,
                              struct fw_error *err)
{
    fw_circuit_answer_release(&solver->answer);
    const enum fw_status status =
        fw_plan__wire(&solver->circuits, day, power, &solver->circuit, err);
    return status
               ? status
               : fw_circuit_solve(&solver->circuit.net, &solver->answer, err);
}

size_t fw_plan__stretch_count(const struct fw_plan__solver *solver)
{
    return solver->circuit.net.earth_return ? solver->answer.pair_count
                                            : solver->answer.section_count;
}

bool fw_plan__stretch_volts(const struct fw_plan__solver *solver, size_t index,
                            struct fw_plan__stretch_volts *out)
{
    const struct fw_circuit *net = &solver->circuit.net;
    const struct fw_circuit_pair *pair =
        net->earth_return ? &net->pairs[index] : NULL;
    const size_t hot = pair ? pair->hot : index;
    const struct fw_plan_stretch *stretch = &solver->circuit.stretches[hot];
    const struct fw_circuit_section_answer *section =
        &solver->answer.sections[hot];
    const struct fw_circuit_node_answer *nodes = solver->answer.nodes;
    if (stretch->fence == FW_NONE)
        return false;
    *out = (struct fw_plan__stretch_volts){
        .fence = stretch->fence,
        .from_m = stretch->from_m,
        .live = section->live,
        .last = stretch->last,
        .least_touched_m = section->least_touched_m,
        .least_touched = section->least_touched,
        .least_open = section->least_open,
        .alone_v = section->least_touched.touched_v,
        .end_v = nodes[net->sections[hot].b].volts.open_v,
    };
    if (!pair)
        return true;
    const struct fw_circuit_pair_answer *both = &solver->answer.pairs[index];
    out->live = both->live;
    out->least_touched_m = both->least_touched_m;
    out->least_touched = both->least_touched;
    out->least_open = both->least_open;
    out->end_v =
        both->live
            ? out->end_v - nodes[net->sections[pair->earth].b].volts.open_v
            : 0;
    return true;
}
