/* From the draft to the farm: everything that needs no field. */
#include "keys/schema.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/text.h"
#include "figures/farm.h"
#include "figures/forage.h"
#include "figures/layout.h"
#include "figures/mark.h"
#include <math.h>
#include <string.h>

static double number_or(const struct fw_farm__number *told, double otherwise)
{
    return told->at.given ? told->value : otherwise;
}

static int whole_or(const struct fw_farm__number *told, int otherwise)
{
    return told->at.given ? (int)lround(told->value) : otherwise;
}

static int pick_or(const struct fw_farm__pick *told, int otherwise)
{
    return told->at.given ? told->value : otherwise;
}

static enum fw_answer answer(const struct fw_farm__pick *told)
{
    if (!told->at.given)
        return FW_UNTOLD;
    return told->value ? FW_YES : FW_NO;
}

static void set_spec(const struct fw_farm__spec *told,
                     struct fw_fence_spec *out)
{
    out->strands = whole_or(&told->strands, out->strands);
    out->post_gap_m = number_or(&told->post_gap_m, out->post_gap_m);
    out->slack = number_or(&told->slack, out->slack);
    out->reel_m = number_or(&told->reel_m, out->reel_m);
    out->out_and_back = pick_or(&told->reel_use, 0) != 0;
    out->height_top_m = number_or(&told->top_m, out->height_top_m);
    out->height_bottom_m = number_or(&told->bottom_m, out->height_bottom_m);
}

/* The wires hang by what they have to hold. */
static void set_moved(const struct fw_farm__spec *told, struct fw_farm *farm)
{
    struct fw_fence_spec *out = &farm->moved;
    *out = fw_fence_moved_default();
    farm->lambs_creep = pick_or(&told->lambs, 0) != 0;
    const struct fw_wires wires = fw_fence_wires(
        fw_farm_held(farm), whole_or(&told->strands, out->strands));
    out->height_top_m = wires.top_m;
    out->height_bottom_m = wires.bottom_m;
    out->lay_flat = answer(&told->lay_flat) != FW_NO;
    set_spec(told, out);
}

/* An energizer whose joules are told stands on the farm, and so do rods. */
static void set_owned(const struct fw_farm__draft *draft, struct fw_farm *farm)
{
    for (int i = 0; i < FW_WARE_COUNT; i++)
        farm->owned.of[i] = number_or(&draft->owns[i], 0);
    farm->owned.of[FW_WARE_REEL] = farm->kit.reels;
    farm->owned.of[FW_WARE_POST] = farm->kit.posts;
    farm->owned.of[FW_WARE_WIRE] = farm->kit.wire_m;
    farm->owned.of[FW_WARE_ENERGIZER] = draft->joules.at.given;
    farm->owned.of[FW_WARE_EARTH_ROD] = number_or(&draft->wiring.rods, 0);
}

static enum fw_status set_fences(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm *farm = reader->farm;
    set_moved(&draft->fence, farm);
    farm->perimeter = fw_fence_perimeter_default();
    set_spec(&draft->perimeter_fence, &farm->perimeter.spec);
    farm->perimeter.tolerance_m =
        number_or(&draft->fence_tolerance_m, farm->perimeter.tolerance_m);
    farm->perimeter.brace_deg =
        number_or(&draft->brace_bend_deg, farm->perimeter.brace_deg);
    farm->perimeter.gates = whole_or(&draft->gates, farm->perimeter.gates);
    farm->perimeter.units = farm->units;
    farm->terms = fw_fence_terms_default();
    farm->terms.life_years =
        number_or(&draft->life_years, farm->terms.life_years);
    farm->terms.upkeep = number_or(&draft->upkeep, farm->terms.upkeep);
    farm->terms.interest = number_or(&draft->interest, farm->terms.interest);
    if (farm->moved.height_top_m < farm->moved.height_bottom_m) {
        const bool top = draft->fence.top_m.at.given;
        fw_fail(err, FW_EINPUT,
                "the highest wire is at %.0f cm, below the lowest at %.0f cm",
                100 * farm->moved.height_top_m,
                100 * farm->moved.height_bottom_m);
        return fw_farm__fail_at(
            reader, top ? &draft->fence.top_m.at : &draft->fence.bottom_m.at,
            top ? "fence.top" : "fence.bottom", err);
    }
    const int told = draft->own_reels.at.given + draft->own_posts.at.given +
                     draft->own_wire_m.at.given;
    if (told == 1 || told == 2) {
        const struct fw_farm__at *at =
            draft->own_reels.at.given   ? &draft->own_reels.at
            : draft->own_posts.at.given ? &draft->own_posts.at
                                        : &draft->own_wire_m.at;
        fw_fail(err, FW_EINPUT,
                "expected reels, posts and wire, all three, such as %s; 0 for "
                "what you have none of",
                fw_farm__example("fence.owns"));
        return fw_farm__fail_at(reader, at, "fence.owns", err);
    }
    farm->kit_given = told == FW_PARTS(3);
    farm->kit.reels = whole_or(&draft->own_reels, 0);
    farm->kit.posts = whole_or(&draft->own_posts, 0);
    farm->kit.wire_m = number_or(&draft->own_wire_m, 0);
    set_owned(draft, farm);
    return FW_OK;
}

static void set_rates(const struct fw_farm__draft *draft, struct fw_farm *farm)
{
    farm->rates = fw_fence_rates_default();
    struct fw_fence_rates *rates = &farm->rates;
    rates->walk_m_min = number_or(&draft->walk_m, rates->walk_m_min);
    rates->wind_m_min = number_or(&draft->wind_m, rates->wind_m_min);
    rates->set_post_s = number_or(&draft->set_s, rates->set_post_s);
    rates->pull_post_s = number_or(&draft->pull_s, rates->pull_post_s);
    rates->end_s = number_or(&draft->end_s, rates->end_s);
    rates->posts_an_armful = whole_or(&draft->armful, rates->posts_an_armful);
}

static void set_prices(const struct fw_farm__draft *draft,
                       struct fw_prices *out)
{
    *out = (struct fw_prices){
        .post = number_or(&draft->post, -1),
        .reel = number_or(&draft->reel, -1),
        .wire_m = number_or(&draft->wire_m, -1),
        .corner_post = number_or(&draft->corner_post, -1),
        .line_post = number_or(&draft->line_post, -1),
        .perimeter_wire_m = number_or(&draft->perimeter_wire_m, -1),
        .energizer = number_or(&draft->energizer_price, -1),
        .earth_rod = number_or(&draft->earth_rod, -1),
        .sign = number_or(&draft->sign, -1),
        .insulator = number_or(&draft->insulator, -1),
        .joule = number_or(&draft->joule_price, -1),
        .lead_m = number_or(&draft->lead_price, -1),
        .copper_wire_m = number_or(&draft->copper_wire_price, -1),
        .anchor = number_or(&draft->anchor, -1),
        .handle = number_or(&draft->handle, -1),
        .sleeve = number_or(&draft->sleeve, -1),
        .brace_post = number_or(&draft->brace_post, -1),
        .brace_rail = number_or(&draft->brace_rail, -1),
        .strainer = number_or(&draft->strainer, -1),
        .gate = number_or(&draft->gate_price, -1),
        .staple = number_or(&draft->staple, -1),
        .clamp = number_or(&draft->clamp, -1),
        .cut_out = number_or(&draft->cut_out, -1),
    };
    if (draft->currency.at.given)
        fw_text_clip(draft->currency.text, out->currency, sizeof out->currency);
}

static void set_class(const struct fw_farm__class *told,
                      struct fw_flock_class *out)
{
    *out = (struct fw_flock_class){
        .head = whole_or(&told->head, 0),
        .weight_kg = number_or(&told->weight_kg, 0),
        .state = (enum fw_state)pick_or(&told->state, FW_DRY),
        .coat = (enum fw_coat)pick_or(&told->coat, FW_COAT_UNTOLD),
        .trained = answer(&told->trained),
    };
    const double intake = number_or(&told->intake, 0);
    out->intake_share = intake > 0 ? intake : 0;
    out->intake_kg_day = intake < 0 ? -intake : 0;
    fw_text_clip(told->name.at.given ? told->name.text
                                     : fw_flock_row(out->state)->label,
                 out->name, sizeof out->name);
}

static enum fw_status set_classes(const struct fw_farm__draft *draft,
                                  struct fw_farm *farm, struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&farm->classes, &farm->class_capacity,
                         draft->class_count, sizeof *farm->classes, err);
    if (status)
        return status;
    for (size_t i = 0; i < draft->class_count; i++)
        set_class(&draft->classes[i], &farm->classes[i]);
    farm->class_count = draft->class_count;
    return FW_OK;
}

static enum fw_status set_stay(const struct fw_farm__draft *draft,
                               struct fw_stay *out, struct fw_error *err)
{
    for (int i = 0; i < FW_PARTS(7); i++)
        out->days[i] =
            draft->stay.at.given ? draft->stay.days[i] : FW_STAY_DAYS;
    if (draft->away.count == 0)
        return FW_OK;
    out->away = fw_alloc(2 * draft->away.count, sizeof *out->away);
    if (!out->away)
        return fw_fail_memory(err);
    memcpy(out->away, draft->away.days,
           2 * draft->away.count * sizeof *out->away);
    out->away_count = draft->away.count;
    return FW_OK;
}

static enum fw_status copy_text(const char *text, char **out,
                                struct fw_error *err)
{
    *out = fw_strdup(text);
    return *out ? FW_OK : fw_fail_memory(err);
}

/* The farm's name is its file's, without folder and ending, when nothing else
 * is told. */
static enum fw_status set_name(const struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    struct fw_farm *farm = reader->farm;
    if (reader->draft.name.at.given)
        return copy_text(reader->draft.name.text, &farm->name, err);
    const char *path = request->farm_path            ? request->farm_path
                       : request->field_source_count ? request->field_sources[0]
                                                     : "farm";
    char *shown = fw_source_shown(path);
    if (!shown)
        return fw_fail_memory(err);
    const char *slash = strrchr(fw_text_clean(shown), '/');
    const enum fw_status status =
        copy_text(slash && slash[1] ? slash + 1 : shown, &farm->name, err);
    fw_bytes_free(shown);
    char *dot = status ? NULL : strrchr(farm->name, '.');
    if (dot && dot != farm->name)
        *dot = '\0';
    return status;
}

static void set_rest(const struct fw_farm__reader *reader)
{
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm *farm = reader->farm;
    farm->units = reader->units_given ? reader->units
                  : reader->us_words  ? FW_US
                                      : FW_METRIC;
    farm->start_day = whole_or(&draft->start_day, FW_NO_DAY);
    farm->until_given = draft->until_day.at.given;
    farm->until_day = whole_or(&draft->until_day, FW_NO_DAY);
    farm->last = (enum fw_last)pick_or(&draft->last, FW_LAST_FIT);
    farm->field_order = (enum fw_field_order)pick_or(&draft->field_order, 0);
    farm->keep_days[FW_KEEP_STORM] = number_or(&draft->keep_storm, 0);
    farm->keep_days[FW_KEEP_HEAT] = number_or(&draft->keep_heat, 0);
    farm->far_first = pick_or(&draft->first, 0) != 0;
    farm->prefer = (enum fw_prefer)pick_or(&draft->prefer, FW_PREFER_WORK);
    farm->limits_off = pick_or(&draft->limits, 0) != 0;
    farm->least_width_m = number_or(&draft->least_width_m, 0);
    farm->least_face_m = number_or(&draft->least_face_m, FW_LEAST_FACE_M);
    farm->longest_shape = number_or(&draft->longest_shape, FW_LONGEST_SHAPE);
    farm->lane_width_m = number_or(&draft->lane_width_m, 0);
    farm->apron_m = number_or(&draft->apron_m, FW_APRON_M);
    if (farm->apron_m <= 0)
        farm->apron_m = -1; /* none */
    farm->all_stand = pick_or(&draft->block_lines, 0) != 0;
    farm->work_order =
        (enum fw_work_order)pick_or(&draft->work_order, FW_WORK_LEAPFROG);
    farm->work_told = draft->work_order.at.given;
    farm->direction_given = draft->fence_bearing_deg.at.given;
    farm->direction_deg = number_or(&draft->fence_bearing_deg, 0);
    farm->pace_m = number_or(&draft->pace_m, FW_PACE_M);
    farm->tank_l = number_or(&draft->tank_l, 0);
    farm->hauling = (struct fw_farm_hauling){
        .trough_l = number_or(&draft->trough_l, 0),
        .road_m = number_or(&draft->road_m, 0),
        .drive_m_min = number_or(&draft->drive_m, 0),
        .fill_l_min = number_or(&draft->fill_l_min, 0),
        .payload_kg = number_or(&draft->payload_kg, 0),
        .tank_kg = number_or(&draft->tank_kg, 0),
        .vehicle_width_m = number_or(&draft->vehicle_width_m, 0),
        .hose_m = number_or(&draft->hose_m, 0),
        .slope = number_or(&draft->haul_slope, 0),
        .pipe_price = number_or(&draft->pipe_price, 0),
        .trough_price = number_or(&draft->trough_price, 0),
        .tank_price = number_or(&draft->tank_price, 0),
        .day = {.air = (enum fw_air)pick_or(&draft->air, FW_AIR_UNTOLD),
                .grass_water = number_or(&draft->grass_water, -1)},
    };
    farm->water_moves = pick_or(&draft->trough_moves, 1) != 0;
    farm->trough_days = number_or(&draft->trough_days, 0);
    farm->dry_soil = pick_or(&draft->soil, 0) != 0;
    farm->soil_told = draft->soil.at.given;
    farm->joule_rule = (enum fw_joule_rule)pick_or(&draft->rule, FW_RULE_MILE);
    farm->rule_told = draft->rule.at.given;
    farm->energizer_j = number_or(&draft->joules, 0);
}

static enum fw_status no_lambing_date(const struct fw_farm__reader *reader,
                                      struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    char first[FW_FARM_KEY_WORDS], last[FW_FARM_KEY_WORDS];
    fw_farm__tell("lambing.from", 0, first);
    fw_farm__tell("lambing.to", 0, last);
    if (draft->lambing_from.at.given) {
        fw_fail(err, FW_EINPUT,
                "is told without the last day of lambing; add it, such as %s",
                last);
        return fw_farm__fail_at(reader, &draft->lambing_from.at, "lambing.from",
                                err);
    }
    if (draft->lambing_to.at.given) {
        fw_fail(err, FW_EINPUT,
                "is told without the first day of lambing; add it, such as %s",
                first);
        return fw_farm__fail_at(reader, &draft->lambing_to.at, "lambing.to",
                                err);
    }
    fw_fail(err, FW_EINPUT,
            "is told without the days of lambing; add the first and the last "
            "one, such as %s and %s",
            first, last);
    return fw_farm__fail_at(reader, &draft->lambing_way.at, "lambing.way", err);
}

static enum fw_status set_lambing(const struct fw_farm__reader *reader,
                                  struct fw_lambing *out, struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const struct fw_farm__at *from = &draft->lambing_from.at;
    const struct fw_farm__at *to = &draft->lambing_to.at;
    if (!from->given && !to->given && !draft->lambing_way.at.given)
        return FW_OK;
    if (!from->given || !to->given)
        return no_lambing_date(reader, err);
    const struct fw_lambing lambing = {
        .given = true,
        .from = whole_or(&draft->lambing_from, 0),
        .to = whole_or(&draft->lambing_to, 0),
        .way =
            (enum fw_lambing_way)pick_or(&draft->lambing_way, FW_LAMBING_DAILY),
    };
    if (lambing.to < lambing.from) {
        char first[FW_DATE_TEXT], last[FW_DATE_TEXT];
        fw_fail(err, FW_EINPUT,
                "%s is before lambing.from, %s; expected that day or a later "
                "one",
                fw_date_write(lambing.to, last),
                fw_date_write(lambing.from, first));
        return fw_farm__fail_at(reader, to, "lambing.to", err);
    }
    *out = lambing;
    return FW_OK;
}

static enum fw_status check_load(const struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    const double payload_kg = number_or(&draft->payload_kg, 0);
    const double tank_kg = number_or(&draft->tank_kg, 0);
    if (!draft->payload_kg.at.given || payload_kg > tank_kg)
        return FW_OK;
    fw_fail(err, FW_EINPUT,
            "the empty tank weighs %g kg, and the vehicle may carry %g kg with "
            "it (hauling.payload): no water is left; expected a lighter tank, "
            "or what the vehicle's plate allows in all",
            tank_kg, payload_kg);
    return fw_farm__fail_at(reader, &draft->tank_kg.at, "hauling.tank-weight",
                            err);
}

/* Rounds of many years are a slip of the pen. */
static enum fw_status check_until(const struct fw_farm__reader *reader,
                                  struct fw_error *err)
{
    const int most_days = FW_BOUND(1100);
    const struct fw_farm *farm = reader->farm;
    char until[FW_DATE_TEXT], start[FW_DATE_TEXT];
    if (!farm->until_given || farm->start_day == FW_NO_DAY ||
        (farm->until_day > farm->start_day &&
         farm->until_day - farm->start_day <= most_days))
        return FW_OK;
    fw_fail(err, FW_EINPUT,
            "%s is not within three years after the first day, %s; expected "
            "the day on which the flock leaves, such as 2026-09-30",
            fw_date_write(farm->until_day, until),
            fw_date_write(farm->start_day, start));
    return fw_farm__fail_at(reader, &reader->draft.until_day.at, "until", err);
}

enum fw_status fw_farm__build(struct fw_farm__reader *reader,
                              struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm *farm = reader->farm;
    set_rest(reader);
    set_rates(draft, farm);
    set_prices(draft, &farm->prices);
    farm->sign_path_m = number_or(&draft->sign_path_m, 0);
    farm->sign_road_m = number_or(&draft->sign_road_m, 0);
    enum fw_status status = check_until(reader, err);
    if (!status)
        status = check_load(reader, err);
    if (!status)
        status = set_classes(draft, farm, err);
    if (!status)
        status = set_fences(reader, err);
    if (!status && draft->layout.at.given)
        status = copy_text(draft->layout.text, &farm->layout, err);
    if (!status)
        status = fw_farm__wiring(reader, err);
    if (!status)
        status = set_name(reader, err);
    if (!status && reader->request->farm_path)
        status = copy_text(reader->request->farm_path, &farm->path, err);
    farm->stay_told = draft->stay.at.given;
    if (!status)
        status = set_stay(draft, &farm->stay, err);
    if (!status)
        status = set_lambing(reader, &farm->lambing, err);
    return status ? status : fw_farm__looked(reader, err);
}
