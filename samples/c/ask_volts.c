/* What a sheep gets at the far end of 400 m of wire: 8 kV, 100 ohm inside. */
#include <foldwright/foldwright.h>
#include <stdio.h>

int main(void)
{
    struct fw_circuit net = {.node_count = 2};
    struct fw_circuit_answer volts = {0};
    struct fw_error err;
    enum fw_status status = fw_circuit_add_section(
        &net,
        &(struct fw_circuit_section){.a = 0,
                                     .b = 1,
                                     .length_m = 400,
                                     .ohm_m = 3.8,
                                     .siemens_m = fw_circuit_siemens_m(1000)},
        &err);
    if (!status)
        status = fw_circuit_set_source(
            &net, &(struct fw_circuit_source){0, 8000, 100, 30}, &err);
    if (!status)
        status = fw_circuit_solve(&net, &volts, &err);
    if (!status)
        printf("%.0f V on a tester, %.0f V touched\n",
               volts.nodes[1].volts.open_v, volts.nodes[1].volts.touched_v);
    fw_circuit_answer_release(&volts);
    fw_circuit_release(&net);
    return status;
}
