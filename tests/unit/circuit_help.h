/* Networks for the tests of the circuit, in a line or two each. */
#ifndef FW_CIRCUIT_HELP_H
#define FW_CIRCUIT_HELP_H

#include "power/circuit_use.h"
#include "test.h"

static const double clean_s = 1 / (5000 * 1e3), wet_s = 1 / (500 * 1e3);

static inline void must(enum fw_status status, const struct fw_error *err)
{
    if (status)
        fail_msg("%s", err ? err->text : "refused");
}

static inline void add(struct fw_circuit *net, size_t a, size_t b,
                       double length_m, double ohm_m, double siemens_m)
{
    const struct fw_circuit_section section = {a,     b,         length_m,
                                               ohm_m, siemens_m, 0};
    must(fw_circuit_add_section(net, &section, NULL), NULL);
    const size_t last = a > b ? a : b;
    if (net->node_count <= last)
        net->node_count = last + 1;
}

static inline void add_plain(struct fw_circuit *net, size_t a, size_t b,
                             double ohm)
{
    add(net, a, b, 0, 0, 0);
    net->sections[net->section_count - 1].ohm = ohm;
}

/* 8,000 V behind 300 and 20 ohm. */
static inline void feed(struct fw_circuit *net, size_t node)
{
    const struct fw_circuit_source source = {node, 8000, 300, 20};
    must(fw_circuit_set_source(net, &source, NULL), NULL);
}

static inline struct fw_circuit_answer solved(const struct fw_circuit *net)
{
    struct fw_circuit_answer answer = {0};
    struct fw_error err = {0};
    must(fw_circuit_solve(net, &answer, &err), &err);
    return answer;
}

static inline struct fw_circuit_volts at(const struct fw_circuit *net,
                                         const struct fw_circuit_answer *answer,
                                         size_t section, double at_m)
{
    struct fw_circuit_volts volts = {0};
    struct fw_error err = {0};
    must(fw_circuit_at(net, answer, (struct fw_circuit_station){section, at_m},
                       &volts, &err),
         &err);
    return volts;
}

/* A ring of three sides with a spur, a joint and a fallen wire. */
static inline struct fw_circuit farm(void)
{
    struct fw_circuit net = {0};
    add(&net, 0, 1, 300, 3.82, wet_s);
    add(&net, 1, 2, 250, 1.91, clean_s);
    add(&net, 2, 0, 400, 0.116, clean_s);
    add(&net, 2, 3, 150, 3.82, wet_s);
    add_plain(&net, 1, 4, 700);
    add(&net, 4, 5, 60, 0.035, 10 * wet_s);
    must(fw_circuit_add_shunt(&net, 3, 20000, NULL), NULL);
    feed(&net, 0);
    return net;
}

#endif
