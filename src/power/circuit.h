/* What the files of the circuit share. */
#ifndef FW_POWER_CIRCUIT_H
#define FW_POWER_CIRCUIT_H

#include "power/circuit_use.h"

/* A section as two ports: its exact pi, never by differences, so that a
 * millimetre of clean wire and fifty kilometres of wet grass come out alike. */
struct fw_circuit__line {
    double series_ohm;  /* of all its wire, FW_CIRCUIT_LEAST_OHM at least */
    double angle;       /* gamma L: 0 when nothing leaks */
    double siemens;     /* of the pi, between its ends */
    double end_siemens; /* of the pi, at each end to earth */
};

/* Volts at the two ends and the resistance matrix of the ports there. */
struct fw_circuit__ends {
    double a_v, b_v;
    double aa_ohm, ab_ohm, bb_ohm;
};

struct fw_circuit__line
fw_circuit__line(const struct fw_circuit_section *section);

/* What touches: the body, and what is in series with it. */
struct fw_circuit__touch {
    double body_ohm, hooves_ohm;
};
struct fw_circuit__touch fw_circuit__touch(const struct fw_circuit *net);

struct fw_circuit_volts fw_circuit__volts(double open_v, double thevenin_ohm,
                                          struct fw_circuit__touch touch);

/* What each end's volts count at that share of the length from a. */
void fw_circuit__weights(const struct fw_circuit__line *line, double share,
                         double *of_a, double *of_b);

/* At that share of the length from a. */
struct fw_circuit_volts fw_circuit__inside(const struct fw_circuit__line *line,
                                           const struct fw_circuit__ends *ends,
                                           double share,
                                           struct fw_circuit__touch touch);

/* Set both leasts of *out. */
void fw_circuit__leasts(const struct fw_circuit__line *line,
                        const struct fw_circuit__ends *ends, double length_m,
                        struct fw_circuit__touch touch,
                        struct fw_circuit_section_answer *out);

/* circuit_pair.c */
/* Sets the leasts of *out from all else that is known. */
void fw_circuit__pair_leasts(const struct fw_circuit *net,
                             const struct fw_circuit_answer *answer,
                             size_t pair, struct fw_circuit_pair_answer *out);

/* FW_EINPUT unless value is from 0 to most; `where` goes before `what`. */
enum fw_status fw_circuit__in_range(const char *where, const char *what,
                                    double value, double most, const char *unit,
                                    struct fw_error *err);
enum fw_status fw_circuit__check(const struct fw_circuit *net,
                                 struct fw_error *err);
enum fw_status fw_circuit__check_place(const struct fw_circuit *net,
                                       struct fw_circuit_station place,
                                       struct fw_error *err);

#endif
