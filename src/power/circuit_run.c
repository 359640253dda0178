/* One run, told as one tells it. */
#include "power/circuit.h"

#include "base/fail.h"

enum fw_status fw_circuit_run(const struct fw_circuit_run *run,
                              struct fw_circuit_run_volts *out,
                              struct fw_error *err)
{
    if (!(run->leakage_ohm_km > 0))
        return fw_fail(err, FW_EINPUT,
                       "leakage is %g ohm km; expected over 0, such as 5000 "
                       "for a clean fence and 500 for wet grass",
                       run->leakage_ohm_km);
    struct fw_circuit_section line = {
        .a = 0,
        .b = 1,
        .length_m = run->length_m,
        .ohm_m = run->ohm_m,
        .siemens_m = fw_circuit_siemens_m(run->leakage_ohm_km),
    };
    struct fw_circuit net = {
        .node_count = 2,
        .sections = &line,
        .section_count = 1,
        .source = {0, run->open_v, run->internal_ohm, run->earth_ohm},
        .has_source = true,
        .body_ohm = run->body_ohm,
    };
    struct fw_circuit_answer answer;
    const enum fw_status status = fw_circuit_solve(&net, &answer, err);
    if (status)
        return status;
    *out = (struct fw_circuit_run_volts){
        .near = answer.nodes[0].volts,
        .far = answer.nodes[1].volts,
        .load_ohm = answer.load_ohm,
        .source_a = answer.source_a,
        .rods_v = answer.rods_v,
    };
    fw_circuit_answer_release(&answer);
    return FW_OK;
}
