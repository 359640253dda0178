/* What a tester reads from post to post, with a fault and without, and between
 * which posts the readings give it away. */
#include "live/live.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "figures/mark.h"
#include "figures/power.h"

#include <math.h>
#include <string.h>

void fw_plan_looks_release(struct fw_plan_looks *looks)
{
    fw_free(looks->items);
    *looks = (struct fw_plan_looks){0};
}

/* ---- the network with the fault ---- */

/* One break or short after the other: a wire broken in all its strands is as
 * many breaks. */
struct faulty {
    struct fw_circuit nets[FW_PLAN_MOST_STRANDS];
    struct fw_circuit_station faults[FW_PLAN_MOST_STRANDS];
    int count;
};

static void faulty_release(struct faulty *faulty)
{
    for (int i = 0; i < faulty->count; i++)
        fw_circuit_release(&faulty->nets[i]);
}

static enum fw_status add_fault(const struct fw_plan_circuit *circuit,
                                const struct fw_plan_fault *fault, int strand,
                                struct faulty *faulty, struct fw_error *err)
{
    struct fw_circuit_station *place = &faulty->faults[faulty->count];
    const struct fw_circuit *before =
        faulty->count ? &faulty->nets[faulty->count - 1] : &circuit->net;
    if (!fw_plan_circuit_place(circuit, fault->fence, strand, fault->at_m,
                               place))
        return FW_OK;
    const enum fw_status status =
        fault->kind == FW_FAULT_BROKEN
            ? fw_circuit_break(before, *place, &faulty->nets[faulty->count],
                               err)
            : fw_circuit_short(before, *place, fault->ohm,
                               &faulty->nets[faulty->count], err);
    if (!status)
        faulty->count++;
    return status;
}

static enum fw_status make_faulty(const struct fw_plan *plan,
                                  const struct fw_plan_circuit *circuit,
                                  const struct fw_plan_fault *fault,
                                  struct faulty *faulty, struct fw_error *err)
{
    const int first = fault->strand < 0 ? 0 : fault->strand;
    const int last =
        fault->strand < 0 ? FW_PLAN_MOST_STRANDS - 1 : fault->strand;
    enum fw_status status = FW_OK;
    for (int i = first; !status && i <= last; i++)
        status = add_fault(circuit, fault, i, faulty, err);
    if (!status && faulty->count == 0) {
        char day[FW_DATE_TEXT];
        status = fw_fail(err, FW_EINPUT,
                         "%s does not stand on %s, or is not live then; name "
                         "another with --on",
                         plan->fences[fault->fence].id,
                         fw_date_write(circuit->day, day));
    }
    return status;
}

/* ---- where to look ---- */

static enum fw_status add_look(struct fw_plan_looks *looks, size_t fence,
                               size_t post, double at_m, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&looks->items, &looks->capacity, looks->count + 1,
                         sizeof *looks->items, err);
    if (!status)
        looks->items[looks->count++] =
            (struct fw_plan_look){.fence = fence, .post = post, .at_m = at_m};
    return status;
}

static size_t posts_of(const struct fw_plan *plan, size_t fence, size_t *first)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->post_count; i++)
        if (plan->posts[i].fence == fence) {
            if (count == 0)
                *first = i;
            count++;
        }
    return count;
}

/* Evenly, both ends among them: at most so many, or all. */
static enum fw_status add_looks(const struct fw_plan *plan,
                                struct fw_plan_looks *looks, size_t index,
                                bool every, struct fw_error *err)
{
    enum { some = FW_EFFORT(7), sides = 2, along_a_side = FW_EFFORT(9) };
    const struct fw_plan_fence *fence = &plan->fences[index];
    size_t first = 0;
    const size_t posts = posts_of(plan, index, &first);
    const size_t all = posts >= 2 ? posts : every ? along_a_side : sides;
    const size_t shown = every || all < some ? all : some;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < shown; i++) {
        const size_t k = (2 * i * (all - 1) + (shown - 1)) / (2 * (shown - 1));
        const double at_m =
            posts >= 2 ? plan->posts[first + k].at_m
                       : fence->length_m * (double)k / (double)(all - 1);
        status = add_look(looks, index, posts >= 2 ? k + 1 : 0,
                          fmin(at_m, fence->length_m), err);
    }
    return status;
}

static enum fw_status find_looks(const struct fw_plan *plan,
                                 const struct fw_plan_circuit *circuit,
                                 const struct fw_plan_fault *fault,
                                 struct fw_plan_looks *looks,
                                 struct fw_error *err)
{
    size_t last = FW_NONE;
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < circuit->net.section_count; i++) {
        const size_t fence = circuit->stretches[i].fence;
        if (fence == FW_NONE || fence == last)
            continue;
        last = fence;
        status =
            add_looks(plan, looks, fence, fault && fence == fault->fence, err);
    }
    return status;
}

/* ---- readings ---- */

/* Where the tester is held on: a strand, and the ground, or in an earth-return
 * the strand of the other kind beside it. */
struct touch {
    struct fw_circuit_station places[2];
    int count;
};

static bool hold(const struct fw_plan_circuit *circuit,
                 const struct fw_plan_look *look, int strand, struct touch *out)
{
    out->count = circuit->net.earth_return ? 2 : 1;
    return fw_plan_circuit_place(circuit, look->fence, strand, look->at_m,
                                 &out->places[0]) &&
           (out->count == 1 ||
            fw_plan_circuit_place(circuit, look->fence, fw_power_beside(strand),
                                  look->at_m, &out->places[1]));
}

static enum fw_status read_at(const struct fw_circuit *net,
                              const struct fw_circuit_answer *answer,
                              const struct touch *touch, double *out,
                              struct fw_error *err)
{
    struct fw_circuit_volts volts[2] = {{.open_v = 0}, {.open_v = 0}};
    enum fw_status status = FW_OK;
    for (int i = 0; !status && i < touch->count; i++)
        status = fw_circuit_at(net, answer, touch->places[i], &volts[i], err);
    if (!status)
        *out = fabs(volts[0].open_v - volts[1].open_v);
    return status;
}

static enum fw_status read_sound(const struct fw_plan_circuit *circuit,
                                 struct fw_plan_looks *looks,
                                 struct fw_error *err)
{
    struct fw_circuit_answer answer;
    enum fw_status status = fw_circuit_solve(&circuit->net, &answer, err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < looks->count; i++) {
        struct fw_plan_look *look = &looks->items[i];
        struct touch touch;
        while (!status && look->strands < FW_PLAN_MOST_STRANDS &&
               hold(circuit, look, look->strands, &touch)) {
            status = read_at(&circuit->net, &answer, &touch,
                             &look->sound_v[look->strands], err);
            look->faulty_v[look->strands] = look->sound_v[look->strands];
            look->strands++;
        }
    }
    fw_circuit_answer_release(&answer);
    return status;
}

static struct fw_circuit_station place_in(const struct faulty *faulty,
                                          struct fw_circuit_station place)
{
    for (int i = 0; i < faulty->count; i++)
        place = fw_circuit_place_in(&faulty->nets[i], faulty->faults[i], place);
    return place;
}

/* circuit holds the places; net is it, or it with its faults. */
static enum fw_status read_faulty(const struct fw_plan_circuit *circuit,
                                  const struct fw_circuit *net,
                                  const struct faulty *faulty,
                                  struct fw_plan_looks *looks,
                                  struct fw_error *err)
{
    struct fw_circuit_answer answer;
    enum fw_status status = fw_circuit_solve(net, &answer, err);
    if (status)
        return status;
    for (size_t i = 0; !status && i < looks->count; i++) {
        struct fw_plan_look *look = &looks->items[i];
        for (int k = 0; !status && k < look->strands; k++) {
            struct touch touch;
            hold(circuit, look, k, &touch);
            for (int end = 0; end < touch.count; end++)
                touch.places[end] = place_in(faulty, touch.places[end]);
            status = read_at(net, &answer, &touch, &look->faulty_v[k], err);
        }
    }
    fw_circuit_answer_release(&answer);
    return status;
}

/* ---- what the readings give away ---- */

static double share(const struct fw_plan_look *look, int strand)
{
    return look->sound_v[strand] > 0
               ? look->faulty_v[strand] / look->sound_v[strand]
               : 1;
}

/* A broken wire: the two neighbours between which most is lost. */
static void find_step(struct fw_plan_looks *looks)
{
    double most = FW_LOOK_STEP_SHARE;
    for (size_t i = 0; i + 1 < looks->count; i++) {
        const struct fw_plan_look *here = &looks->items[i], *next = here + 1;
        for (int k = 0; k < here->strands && here->fence == next->fence; k++) {
            const double step = fabs(share(here, k) - share(next, k));
            if (!(step > most))
                continue;
            most = step;
            looks->after = i;
            looks->before = i + 1;
        }
    }
}

/* A short: along one line the readings fall on the way to it, and no further
 * beyond. */
static void find_foot(struct fw_plan_looks *looks)
{
    const double even = FW_TOLERANCE(0.002);
    size_t best = FW_NONE;
    double least = 1 - FW_LOOK_STEP_SHARE;
    for (size_t i = 0; i < looks->count; i++)
        for (int k = 0; k < looks->items[i].strands; k++)
            if (share(&looks->items[i], k) < least - even) {
                least = share(&looks->items[i], k);
                best = i;
            }
    if (best == FW_NONE)
        return;
    const size_t fence = looks->items[best].fence;
    looks->after =
        best > 0 && looks->items[best - 1].fence == fence ? best - 1 : best;
    looks->before =
        best + 1 < looks->count && looks->items[best + 1].fence == fence
            ? best + 1
            : best;
}

/* ---- all of it ---- */

static void set_learned(struct fw_plan__circuits *circuits,
                        struct fw_plan_power *power,
                        const struct fw_plan_learned *learned)
{
    if (!learned || !learned->known)
        return;
    circuits->leakage_factor = learned->leakage_factor;
    power->earth_ohm = learned->earth_ohm;
}

/* Wet grass on the bottom wires of every line, common practice. */
static struct fw_farm_wiring in_rain(const struct fw_farm_wiring *dry)
{
    struct fw_farm_wiring wet = *dry;
    const double heavy_ohm_km = fw_power_leakage(FW_LEAKAGE_HEAVY)->ohm_km;
    wet.moved_leak_ohm_km = wet.perimeter_leak_ohm_km = heavy_ohm_km;
    return wet;
}

static enum fw_status wire(const struct fw_plan *plan, int day,
                           const struct fw_farm_wiring *wiring,
                           const struct fw_plan_learned *learned,
                           struct fw_plan_circuit *out, struct fw_error *err)
{
    struct fw_plan_power power = plan->power;
    struct fw_plan__circuits circuits;
    enum fw_status status =
        fw_plan__circuits_init(&circuits, plan, wiring, err);
    if (status)
        return status;
    set_learned(&circuits, &power, learned);
    status = fw_plan__days_to(&circuits.days, day, err);
    if (!status)
        status = fw_plan__wire(&circuits, day, &power, out, err);
    fw_plan__circuits_release(&circuits);
    return status;
}

static enum fw_status read_rain(const struct fw_plan *plan, int day,
                                const struct fw_plan_learned *learned,
                                struct fw_plan_looks *looks,
                                struct fw_error *err)
{
    const struct fw_farm_wiring wet = in_rain(&plan->wiring);
    const struct faulty none = {.count = 0};
    struct fw_plan_circuit circuit = {0};
    enum fw_status status = wire(plan, day, &wet, learned, &circuit, err);
    if (!status)
        status = read_faulty(&circuit, &circuit.net, &none, looks, err);
    fw_plan_circuit_release(&circuit);
    return status;
}

static enum fw_status read_broken(const struct fw_plan *plan,
                                  const struct fw_plan_circuit *circuit,
                                  const struct fw_plan_fault *fault,
                                  struct fw_plan_looks *looks,
                                  struct fw_error *err)
{
    struct faulty faulty = {.count = 0};
    enum fw_status status = make_faulty(plan, circuit, fault, &faulty, err);
    if (!status)
        status = read_faulty(circuit, &faulty.nets[faulty.count - 1], &faulty,
                             looks, err);
    faulty_release(&faulty);
    if (!status && fault->kind == FW_FAULT_BROKEN)
        find_step(looks);
    else if (!status)
        find_foot(looks);
    return status;
}

enum fw_status fw_plan_look_for(const struct fw_plan *plan, int day,
                                const struct fw_plan_fault *fault,
                                const struct fw_plan_learned *learned,
                                struct fw_plan_looks *out, struct fw_error *err)
{
    struct fw_plan_looks looks = {.after = FW_NONE, .before = FW_NONE};
    struct fw_plan_circuit circuit = {0};
    enum fw_status status = fw_plan__check_day(plan, day, err);
    if (!status)
        status = wire(plan, day, &plan->wiring, learned, &circuit, err);
    if (!status)
        status = find_looks(plan, &circuit, fault, &looks, err);
    if (!status)
        status = read_sound(&circuit, &looks, err);
    if (!status && fault)
        status = fault->kind == FW_FAULT_RAIN
                     ? read_rain(plan, day, learned, &looks, err)
                     : read_broken(plan, &circuit, fault, &looks, err);
    fw_plan_circuit_release(&circuit);
    if (status)
        fw_plan_looks_release(&looks);
    else
        *out = looks;
    return status;
}
