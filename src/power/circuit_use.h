/* The fence as an electric circuit: what a tester shows at every place, and
 * what is left of it while a sheep touches the wire there.
 *
 * Peak values and pure resistance: wire that resists and leaks evenly along
 * its length, shorts, switches and limiters, one energizer behind its internal
 * and its earth resistance. The ground, at 0 V, is the common return; where it
 * conducts badly a wire may be one beside it, and then a sheep may touch two
 * wires at once. A caller makes the network from a plan; here are no maps. */
#ifndef FW_POWER_CIRCUIT_USE_H
#define FW_POWER_CIRCUIT_USE_H

#include <foldwright/circuit.h>

/* Watts at the peak. source_w is what the energizer's open voltage drives; the
 * other four add up to it. */
struct fw_circuit_losses {
    double source_w, sections_w, shunts_w, internal_w, earth_w;
};
struct fw_circuit_losses
fw_circuit_losses(const struct fw_circuit *net,
                  const struct fw_circuit_answer *answer);

/* The network with a fault: the wire broken, or a short of so many ohm, at a
 * place; it has no pairs. The section keeps its number up to the fault; the
 * rest of it is the last section of *out. A break sets dead_parts. Release *out
 * when done. */
enum fw_status fw_circuit_break(const struct fw_circuit *net,
                                struct fw_circuit_station fault,
                                struct fw_circuit *out, struct fw_error *err);
enum fw_status fw_circuit_short(const struct fw_circuit *net,
                                struct fw_circuit_station fault, double ohm,
                                struct fw_circuit *out, struct fw_error *err);

/* Where a place of the whole network lies in `faulty`, made from it with one
 * fault. A place at the fault lies before it. */
struct fw_circuit_station fw_circuit_place_in(const struct fw_circuit *faulty,
                                              struct fw_circuit_station fault,
                                              struct fw_circuit_station place);

/* A tester's reading with nothing touching. */
struct fw_circuit_reading {
    struct fw_circuit_station place;
    double open_v;
    bool across; /* the tester is held between place and other, not the ground
                  */
    struct fw_circuit_station other;
};

struct fw_circuit_fit {
    int unknowns; /* 2, or 1: leakage alone, when there is one reading or when
                     the places cannot tell the two apart */
    double leakage_factor; /* on the leakage of all sections, 0.001 to 1000 */
    double earth_ohm;  /* 0.01 to 10000; the network's own when not fitted */
    bool spread_known; /* more readings than unknowns */
    double leakage_spread, earth_spread_ohm; /* standard errors; 0: not known */
    double misfit_v; /* root of the mean square of reading less model */
    bool at_bound;   /* no value within the bounds fits better: look at the
                        readings, or for a fault */
};

/* What the readings say of the leakage and the earth. FW_EINPUT: no reading, a
 * reading that cannot be, a place out of range, or a network without leakage.
 */
enum fw_status fw_circuit_fit(const struct fw_circuit *net,
                              const struct fw_circuit_reading *readings,
                              size_t count, struct fw_circuit_fit *out,
                              struct fw_error *err);

/* The network with what was fitted in it. */
enum fw_status fw_circuit_fitted(const struct fw_circuit *net,
                                 const struct fw_circuit_fit *fit,
                                 struct fw_circuit *out, struct fw_error *err);

/* One run fed at its near end. */
struct fw_circuit_run {
    double length_m, ohm_m;
    double leakage_ohm_km; /* INFINITY: none */
    double open_v, internal_ohm, earth_ohm;
    double body_ohm; /* 0: FW_CIRCUIT_BODY_OHM */
};

struct fw_circuit_run_volts {
    struct fw_circuit_volts near, far;
    double load_ohm; /* of the run, as the energizer sees it */
    double source_a, rods_v;
};

enum fw_status fw_circuit_run(const struct fw_circuit_run *run,
                              struct fw_circuit_run_volts *out,
                              struct fw_error *err);

#endif
