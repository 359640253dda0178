/* A network with a fault in it. */
#include "power/circuit.h"

#include "base/fail.h"
#include <math.h>

/* Part the copy's section at the place: up to a node of its own, and on from
 * another or the same one. */
static enum fw_status part(const struct fw_circuit *net,
                           struct fw_circuit_station fault, bool joined,
                           struct fw_circuit *out, struct fw_error *err)
{
    enum fw_status status = fw_circuit__check_place(net, fault, err);
    if (status)
        return status;
    struct fw_circuit faulty;
    status = fw_circuit_copy(net, &faulty, err);
    if (status)
        return status;
    faulty.pair_count = 0; /* their sections differ in length now */
    struct fw_circuit_section rest = faulty.sections[fault.section];
    rest.a = faulty.node_count + (joined ? 0 : 1);
    rest.length_m = fmax(rest.length_m - fault.at_m, 0);
    rest.ohm = 0;
    faulty.sections[fault.section].b = faulty.node_count;
    faulty.sections[fault.section].length_m = fault.at_m;
    faulty.node_count = rest.a + 1;
    status = fw_circuit_add_section(&faulty, &rest, err);
    if (status) {
        fw_circuit_release(&faulty);
        return status;
    }
    *out = faulty;
    return FW_OK;
}

enum fw_status fw_circuit_break(const struct fw_circuit *net,
                                struct fw_circuit_station fault,
                                struct fw_circuit *out, struct fw_error *err)
{
    const enum fw_status status = part(net, fault, false, out, err);
    if (!status)
        out->dead_parts = true;
    return status;
}

enum fw_status fw_circuit_short(const struct fw_circuit *net,
                                struct fw_circuit_station fault, double ohm,
                                struct fw_circuit *out, struct fw_error *err)
{
    if (!(ohm >= 0))
        return fw_fail(err, FW_EINPUT, "a short of %g ohm; expected 0 or more",
                       ohm);
    struct fw_circuit faulty;
    enum fw_status status = part(net, fault, true, &faulty, err);
    if (status)
        return status;
    status = fw_circuit_add_shunt(&faulty, faulty.node_count - 1, ohm, err);
    if (status)
        fw_circuit_release(&faulty);
    else
        *out = faulty;
    return status;
}

struct fw_circuit_station fw_circuit_place_in(const struct fw_circuit *faulty,
                                              struct fw_circuit_station fault,
                                              struct fw_circuit_station place)
{
    if (place.section != fault.section || place.at_m <= fault.at_m)
        return place;
    return (struct fw_circuit_station){faulty->section_count - 1,
                                       place.at_m - fault.at_m};
}
