#include "power/circuit.h"
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Far beyond any fence: what is over them is a slip of unit or of digit. */
static const double most_ohm = FW_BOUND(1e12);
static const double most_ohm_m = FW_BOUND(1e6);
static const double most_siemens_m = FW_BOUND(1e3);
static const double most_m = FW_BOUND(1e6);
static const double most_v = FW_BOUND(1e6);

enum fw_status fw_circuit_add_section(struct fw_circuit *net,
                                      const struct fw_circuit_section *section,
                                      struct fw_error *err)
{
    if (!net || !section)
        return fw_fail_null(err, "a circuit or its section");
    const enum fw_status status =
        fw_array_reserve(&net->sections, &net->section_capacity,
                         net->section_count + 1, sizeof *section, err);
    if (!status)
        net->sections[net->section_count++] = *section;
    return status;
}

enum fw_status fw_circuit_add_shunt(struct fw_circuit *net, size_t node,
                                    double ohm, struct fw_error *err)
{
    if (!net)
        return fw_fail_null(err, "the circuit");
    const struct fw_circuit_shunt shunt = {node, ohm};
    const enum fw_status status =
        fw_array_reserve(&net->shunts, &net->shunt_capacity,
                         net->shunt_count + 1, sizeof shunt, err);
    if (!status)
        net->shunts[net->shunt_count++] = shunt;
    return status;
}

enum fw_status fw_circuit_set_source(struct fw_circuit *net,
                                     const struct fw_circuit_source *source,
                                     struct fw_error *err)
{
    if (!net || !source)
        return fw_fail_null(err, "a circuit or its source");
    if (net->has_source)
        return fw_fail(err, FW_EINPUT,
                       "a second energizer at node %zu, the first is at node "
                       "%zu; one fence has one energizer: part the fence in "
                       "two, or take the second away",
                       source->node, net->source.node);
    net->source = *source;
    net->has_source = true;
    return FW_OK;
}

void fw_circuit_release(struct fw_circuit *net)
{
    if (!net)
        return;
    fw_free(net->sections);
    fw_free(net->shunts);
    fw_free(net->pairs);
    *net = (struct fw_circuit){0};
}

/* *copy is NULL when there is nothing to copy. */
static bool copied(const void *items, size_t count, size_t size, void **copy)
{
    *copy = NULL;
    if (count == 0)
        return true;
    *copy = fw_alloc(count, size);
    if (*copy)
        memcpy(*copy, items, count * size);
    return *copy != NULL;
}

enum fw_status fw_circuit_copy(const struct fw_circuit *net,
                               struct fw_circuit *out, struct fw_error *err)
{
    if (!net || !out)
        return fw_fail_null(err, "a circuit, or where its copy goes,");
    void *sections = NULL, *shunts = NULL, *pairs = NULL;
    if (!copied(net->sections, net->section_count, sizeof *net->sections,
                &sections) ||
        !copied(net->shunts, net->shunt_count, sizeof *net->shunts, &shunts) ||
        !copied(net->pairs, net->pair_count, sizeof *net->pairs, &pairs)) {
        fw_free(sections);
        fw_free(shunts);
        return fw_fail_memory(err);
    }
    *out = *net;
    out->sections = sections;
    out->section_capacity = net->section_count;
    out->shunts = shunts;
    out->shunt_capacity = net->shunt_count;
    out->pairs = pairs;
    out->pair_capacity = net->pair_count;
    return FW_OK;
}

double fw_circuit_siemens_m(double leakage_ohm_km)
{
    return 1 / (leakage_ohm_km * 1000);
}

struct fw_circuit__touch fw_circuit__touch(const struct fw_circuit *net)
{
    return (struct fw_circuit__touch){net->body_ohm > 0 ? net->body_ohm
                                                        : FW_CIRCUIT_BODY_OHM,
                                      net->hooves_ohm};
}

static bool is_in_range(double value, double most)
{
    return value >= 0 && value <= most;
}

enum fw_status fw_circuit__in_range(const char *where, const char *what,
                                    double value, double most, const char *unit,
                                    struct fw_error *err)
{
    if (is_in_range(value, most))
        return FW_OK;
    return fw_fail(err, FW_EINPUT, "%s%s is %g %s; expected 0 to %g", where,
                   what, value, unit, most);
}

static enum fw_status no_such_node(const struct fw_circuit *net,
                                   const char *where, size_t node,
                                   struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT,
                   "%snode %zu is not in the network; its nodes are 0 to %zu",
                   where, node, net->node_count - 1);
}

/* A circuit is checked each time that it is solved, so that the place is
 * written only where there is something to say of it. */
static enum fw_status check_section(const struct fw_circuit *net, size_t index,
                                    struct fw_error *err)
{
    enum { row_count = FW_PARTS(4) };
    const struct fw_circuit_section *section = &net->sections[index];
    const struct {
        const char *what, *unit;
        double value, most;
    } rows[row_count] = {
        {"length", "m", section->length_m, most_m},
        {"resistance of the wire", "ohm/m", section->ohm_m, most_ohm_m},
        {"leakage", "S/m", section->siemens_m, most_siemens_m},
        {"resistance", "ohm", section->ohm, most_ohm},
    };
    size_t row = 0;
    while (row < row_count && is_in_range(rows[row].value, rows[row].most))
        row++;
    const bool a_astray = section->a >= net->node_count;
    const bool astray = a_astray || section->b >= net->node_count;
    if (!astray && row == row_count &&
        !(section->length_m > 0 && section->ohm > 0))
        return FW_OK;
    char where[96];
    snprintf(where, sizeof where, "section %zu (node %zu to node %zu): ", index,
             section->a, section->b);
    if (astray)
        return no_such_node(net, where, a_astray ? section->a : section->b,
                            err);
    if (row < row_count)
        return fw_circuit__in_range(where, rows[row].what, rows[row].value,
                                    rows[row].most, rows[row].unit, err);
    return fw_fail(err, FW_EINPUT,
                   "%sboth a length of %g m and a plain resistance of %g "
                   "ohm; make two sections of them",
                   where, section->length_m, section->ohm);
}

static enum fw_status check_shunt(const struct fw_circuit *net, size_t index,
                                  struct fw_error *err)
{
    const struct fw_circuit_shunt *shunt = &net->shunts[index];
    if (shunt->node < net->node_count && is_in_range(shunt->ohm, most_ohm))
        return FW_OK;
    char where[48];
    snprintf(where, sizeof where, "shunt %zu: ", index);
    if (shunt->node >= net->node_count)
        return no_such_node(net, where, shunt->node, err);
    return fw_circuit__in_range(where, "resistance to earth", shunt->ohm,
                                most_ohm, "ohm", err);
}

static enum fw_status check_source(const struct fw_circuit *net,
                                   struct fw_error *err)
{
    const struct fw_circuit_source *source = &net->source;
    const char *where = "energizer: ";
    if (!net->has_source)
        return fw_fail(err, FW_EINPUT,
                       "the network has no energizer; set one at a node");
    if (source->node >= net->node_count)
        return no_such_node(net, where, source->node, err);
    if (net->earth_return && net->earth_node >= net->node_count)
        return no_such_node(net, where, net->earth_node, err);
    if (net->earth_return && net->earth_node == source->node)
        return fw_fail(err, FW_EINPUT,
                       "%sits two terminals are one node, %zu; an earth-return "
                       "has a node of its own",
                       where, source->node);
    if (!(source->open_v > 0 && source->open_v <= most_v))
        return fw_fail(err, FW_EINPUT,
                       "%sopen voltage is %g V; expected over 0, to %g", where,
                       source->open_v, most_v);
    const enum fw_status status =
        fw_circuit__in_range(where, "internal resistance", source->internal_ohm,
                             most_ohm, "ohm", err);
    return status
               ? status
               : fw_circuit__in_range(where, "earth resistance",
                                      source->earth_ohm, most_ohm, "ohm", err);
}

static enum fw_status check_pair(const struct fw_circuit *net, size_t index,
                                 struct fw_error *err)
{
    const double micron_m = FW_TOLERANCE(1e-6);
    const struct fw_circuit_pair *pair = &net->pairs[index];
    if (pair->hot >= net->section_count || pair->earth >= net->section_count ||
        pair->hot == pair->earth)
        return fw_fail(err, FW_EINPUT,
                       "pair %zu is of sections %zu and %zu; expected two of "
                       "%zu, from 0",
                       index, pair->hot, pair->earth, net->section_count);
    const double hot_m = net->sections[pair->hot].length_m;
    const double earth_m = net->sections[pair->earth].length_m;
    if (!(fabs(hot_m - earth_m) <= micron_m))
        return fw_fail(err, FW_EINPUT,
                       "pair %zu: one wire is %g m long and the other %g; "
                       "expected one length",
                       index, hot_m, earth_m);
    return FW_OK;
}

enum fw_status fw_circuit__check(const struct fw_circuit *net,
                                 struct fw_error *err)
{
    if (net->node_count == 0 || net->node_count > FW_CIRCUIT_MOST_NODES)
        return fw_fail(err, FW_EINPUT,
                       "the network has %zu nodes; expected 1 to %d",
                       net->node_count, FW_CIRCUIT_MOST_NODES);
    if (net->section_count > FW_CIRCUIT_MOST_SECTIONS)
        return fw_fail(err, FW_EINPUT,
                       "the network has %zu sections; expected %d at most",
                       net->section_count, FW_CIRCUIT_MOST_SECTIONS);
    enum fw_status status = fw_circuit__in_range(
        "", "resistance of the body", net->body_ohm, most_ohm, "ohm", err);
    if (!status)
        status = fw_circuit__in_range("", "resistance under the hooves",
                                      net->hooves_ohm, most_ohm, "ohm", err);
    if (!status)
        status = check_source(net, err);
    for (size_t i = 0; i < net->section_count && !status; i++)
        status = check_section(net, i, err);
    for (size_t i = 0; i < net->shunt_count && !status; i++)
        status = check_shunt(net, i, err);
    for (size_t i = 0; i < net->pair_count && !status; i++)
        status = check_pair(net, i, err);
    return status;
}

enum fw_status fw_circuit__check_place(const struct fw_circuit *net,
                                       struct fw_circuit_station place,
                                       struct fw_error *err)
{
    if (place.section >= net->section_count)
        return fw_fail(err, FW_EINPUT,
                       "section %zu is not in the network; it has %zu of them, "
                       "from 0",
                       place.section, net->section_count);
    /* A caller's sums may end a hair beyond the section. */
    const double micron_m = FW_TOLERANCE(1e-6);
    const double length_m = net->sections[place.section].length_m;
    if (!(place.at_m >= 0 && place.at_m <= length_m + micron_m))
        return fw_fail(err, FW_EINPUT,
                       "section %zu: the place along it is %g m; expected 0 to "
                       "%g",
                       place.section, place.at_m, length_m);
    return FW_OK;
}
