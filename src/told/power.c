/* What the circuit of a plan is made of: wires, grass on them, the earth, the
 * energizer and its place. */
#include "keys/schema.h"

#include "base/text.h"
#include "crs/crs.h"
#include "figures/farm.h"
#include "figures/mark.h"
#include "figures/power.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* How far from every field it may stand. */
static const double farthest_m = FW_BOUND(2000);

/* What a data sheet tells volts and joules at. */
static const double sheet_load_ohm = FW_SHEET_LOAD_OHM;

/* ---- the wiring ---- */

/* Volts without a load and at 500 ohm, or what it resists itself, or joules. */
static enum fw_status take_sheet(struct fw_farm__reader *reader,
                                 struct fw_farm_wiring *out,
                                 struct fw_error *err)
{
    const struct fw_farm__wiring *told = &reader->draft.wiring;
    const double joules =
        reader->draft.joules.at.given ? reader->draft.joules.value : 0;
    struct fw_power_source source = {0};
    enum fw_status status = FW_OK;
    const struct fw_farm__number *at = &told->open_v;
    const char *key = "energizer.open";
    char say[FW_FARM_KEY_WORDS];
    if (!told->open_v.at.given && !told->loaded_v.at.given &&
        !told->internal.at.given)
        return FW_OK;
    if (told->loaded_v.at.given && told->internal.at.given) {
        at = &told->internal;
        key = "energizer.internal";
        status = fw_fail(err, FW_EINPUT,
                         "says the same thing as energizer.loaded; keep one "
                         "of the two");
    } else if (!told->open_v.at.given) {
        at = told->loaded_v.at.given ? &told->loaded_v : &told->internal;
        key =
            told->loaded_v.at.given ? "energizer.loaded" : "energizer.internal";
        status = fw_fail(err, FW_EINPUT,
                         "means something with the volts without a fence only, "
                         "such as %s",
                         fw_farm__tell("energizer.open", 0, say));
    } else if (told->internal.at.given) {
        source.open_v = told->open_v.value;
        source.internal_ohm = told->internal.value;
    } else if (told->loaded_v.at.given) {
        status = fw_power_source_volts(told->open_v.value, told->loaded_v.value,
                                       sheet_load_ohm, &source, err);
    } else if (joules > 0) {
        status = fw_power_source_joules(told->open_v.value, joules,
                                        sheet_load_ohm, &source, err);
    } else {
        source.open_v = told->open_v.value; /* the rest is guessed */
    }
    out->open_v = source.open_v;
    out->internal_ohm = source.internal_ohm;
    return status ? fw_farm__fail_at(reader, &at->at, key, err) : FW_OK;
}

static void take(const struct fw_farm__number *told, double *out)
{
    if (told->at.given)
        *out = told->value;
}

static void take_wires(const struct fw_farm__wiring *told,
                       struct fw_farm_wiring *out)
{
    double gap_m = 0;
    take(&told->conductor, &out->moved_ohm_m);
    take(&told->perimeter_conductor, &out->perimeter_ohm_m);
    take(&told->lead_conductor, &out->lead_ohm_m);
    take(&told->leakage, &out->moved_leak_ohm_km);
    take(&told->perimeter_leakage, &out->perimeter_leak_ohm_km);
    take(&told->joint, &out->joint_ohm);
    take(&told->in_lead, &out->switch_ohm);
    take(&told->lead_m, &out->lead_m);
    take(&told->bonded, &gap_m);
    if (told->bonded.at.given)
        out->bonded = gap_m > 0   ? FW_BONDED_EVERY
                      : gap_m < 0 ? FW_BONDED_BOTH_ENDS
                                  : FW_BONDED_LIVE_END;
    out->bond_gap_m = fmax(gap_m, 0);
    out->far_hooked = told->far_end.at.given && told->far_end.value;
}

/* It takes a hot strand and another one. */
static enum fw_status take_return(struct fw_farm__reader *reader,
                                  struct fw_farm_wiring *out,
                                  struct fw_error *err)
{
    const struct fw_farm__pick *told = &reader->draft.wiring.earth_return;
    const struct fw_fence_spec *moved = &reader->farm->moved;
    if (!told->at.given)
        return FW_OK;
    out->earth_return = told->value ? FW_YES : FW_NO;
    if (!told->value || (moved->strands > 1 && !moved->out_and_back))
        return FW_OK;
    fw_fail(err, FW_EINPUT,
            moved->out_and_back
                ? "out and back two strands are one wire, and one that is an "
                  "earth has to be another; with fence.reel-use: one-a-strand "
                  "they are two"
                : "one strand cannot be hot and earth at once; expected "
                  "fence.strands: 2 or more, better 3");
    return fw_farm__fail_at(reader, &told->at, "earth.return", err);
}

enum fw_status fw_farm__wiring(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    const struct fw_farm__wiring *told = &reader->draft.wiring;
    struct fw_farm_wiring out = fw_farm_wiring_default();
    take_wires(told, &out);
    out.perimeter_strands = reader->farm->perimeter.spec.strands;
    if (reader->draft.soil.at.given && reader->draft.soil.value)
        out.soil_ohm_m = FW_EARTH_DRY_OHM_M;
    take(&told->soil, &out.soil_ohm_m);
    take(&told->earth, &out.earth_ohm);
    take(&told->rod_v, &out.rod_v);
    take(&told->interval_s, &out.interval_s);
    take(&told->charge_days, &out.charge_days);
    take(&told->sun_h, &out.sun_h);
    if (told->rods.at.given)
        out.rods = (int)lround(told->rods.value);
    out.moves = told->moves.at.given && told->moves.value;
    enum fw_status status = take_return(reader, &out, err);
    if (!status)
        status = take_sheet(reader, &out, err);
    if (!status)
        reader->farm->wiring = out;
    return status;
}

/* ---- the energizer's place ---- */

static enum fw_status two_energizers(struct fw_farm__reader *reader,
                                     const char *first, const char *second,
                                     struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const struct fw_farm__at *at = draft->energizer.at.given
                                       ? &draft->energizer.at
                                       : &draft->wiring.moves.at;
    fw_fail(err, FW_EINPUT,
            "two energizers on one fence: %s, and %s; one fence has one "
            "energizer: keep one of them, or plan the two fences apart, 2.5 m "
            "or more between their wires",
            first, second);
    return at->given
               ? fw_farm__fail_at(reader, at,
                                  draft->energizer.at.given ? "energizer.at"
                                                            : "energizer.moves",
                                  err)
               : FW_EINPUT;
}

/* On a map, the number of them and one of them. */
static size_t mapped_energizers(const struct fw_farm *farm,
                                const struct fw_farm_feature **one)
{
    size_t count = 0;
    *one = NULL;
    for (size_t i = 0; i < farm->feature_count; i++)
        if (farm->features[i].role == FW_ROLE_ENERGIZER) {
            *one = &farm->features[i];
            count += farm->features[i].ring_start[farm->features[i].ring_count];
        }
    return count;
}

static enum fw_status check_single(struct fw_farm__reader *reader,
                                   size_t mapped, struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const bool moves = reader->farm->wiring.moves;
    char told[128], found[64];
    snprintf(told, sizeof told, "one stands at \"%.80s\"",
             draft->energizer.at.given ? draft->energizer.text : "");
    snprintf(found, sizeof found, "the map shows %zu", mapped);
    if (draft->energizer.at.given && moves)
        return two_energizers(reader, told, "one goes with the flock", err);
    if (draft->energizer.at.given && mapped > 0)
        return two_energizers(reader, told, found, err);
    if (moves && mapped > 0)
        return two_energizers(reader, "one goes with the flock", found, err);
    if (mapped > 1)
        return two_energizers(reader, found, "nothing says which is meant",
                              err);
    return FW_OK;
}

static enum fw_status check_reach(struct fw_farm__reader *reader,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = reader->farm;
    double nearest_m = HUGE_VAL;
    size_t nearest = 0;
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_field *field = farm->fields[i].shape;
        const double away_m = fmin(
            fw_farm__distance_m(
                field, fw_plane_forward(&field->plane, farm->energizer.lonlat)),
            fw_geo_distance_m(field->plane.centre, farm->energizer.lonlat));
        if (away_m < nearest_m) {
            nearest_m = away_m;
            nearest = i;
        }
    }
    if (nearest_m <= farthest_m)
        return FW_OK;
    fw_fail(err, FW_EPLAN,
            "the energizer is %.0f m from the nearest field, \"%.80s\"; "
            "expected at most %.0f m: is the place right, longitude first?",
            nearest_m, farm->fields[nearest].shape->name, farthest_m);
    return fw_farm__fail_at(reader, &reader->draft.energizer.at, "energizer.at",
                            err) == FW_OK
               ? FW_OK
               : FW_EPLAN;
}

enum fw_status fw_farm__energizer(struct fw_farm__reader *reader,
                                  struct fw_error *err)
{
    const struct fw_farm__text *told = &reader->draft.energizer;
    struct fw_farm *farm = reader->farm;
    const struct fw_field *field = farm->fields[0].shape;
    const struct fw_farm_feature *mapped;
    const size_t count = mapped_energizers(farm, &mapped);
    enum fw_status status = check_single(reader, count, err);
    if (status)
        return status;
    if (count == 1) {
        farm->energizer = (struct fw_spot){
            .given = true,
            .lonlat = mapped->points[0],
            .point = fw_plane_forward(&field->plane, mapped->points[0]),
            .text = "on the map",
        };
        return FW_OK;
    }
    if (!told->at.given)
        return FW_OK;
    status = fw_farm__spot(reader, field, told->text, &farm->energizer, err);
    if (status)
        return fw_farm__fail_at(reader, &told->at, "energizer.at", err);
    return check_reach(reader, err);
}
