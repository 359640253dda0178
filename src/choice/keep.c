/* Paddocks kept back for storms and for heat: what the maps show of shelter and
 * shade, as marks for the layout, and what is said of what came of it. */
#include "choice/keep.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/layout.h"
#include "plan/words.h"

#include <math.h>
#include <string.h>

static const struct {
    const char *what, *events;
    enum fw_role role;
} kinds[] = {
    [FW_KEEP_STORM] = {"shelter", "storms", FW_ROLE_SHELTER},
    [FW_KEEP_HEAT] = {"shade", "heat", FW_ROLE_SHADE},
};
_Static_assert((int)FW_KEEP_COUNT == (int)FW_PLAN__KEEPS, "a word for each");

const char *fw_plan__keep_word(size_t kept)
{
    return kept == 0 ? "" : fw_plan__keep_words[kept - 1];
}

static enum fw_status add_mark(struct fw_plan__keep *keep, size_t kind,
                               const struct fw_plane *plane,
                               const struct fw_farm_feature *feature,
                               struct fw_error *err)
{
    const size_t count = feature->ring_start[feature->ring_count];
    struct fw_point *points = fw_alloc(count, sizeof *points);
    if (!points)
        return fw_fail_memory(err);
    for (size_t i = 0; i < count; i++)
        points[i] = fw_plane_forward(plane, feature->points[i]);
    keep->marks[kind][keep->wanted[kind].mark_count++] =
        (struct fw_layout_mark){points, feature->ring_start,
                                feature->ring_count,
                                feature->kind == FW_FEATURE_POLYGON};
    return FW_OK;
}

enum fw_status fw_plan__keep_init(const struct fw_plan_job *job, size_t index,
                                  struct fw_plan__keep *out,
                                  struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    const int stay = fw_forage_common_stay(&farm->stay, job->day);
    enum fw_status status = FW_OK;
    *out = (struct fw_plan__keep){0};
    for (size_t k = 0; !status && k < FW_KEEP_COUNT; k++) {
        if (!(farm->keep_days[k] > 0))
            continue;
        out->count = FW_KEEP_COUNT;
        out->wanted[k].stays = farm->keep_days[k] / stay;
        out->marks[k] = fw_alloc(farm->feature_count, sizeof *out->marks[k]);
        out->wanted[k].marks = out->marks[k];
        status = out->marks[k] ? FW_OK : fw_fail_memory(err);
        for (size_t i = 0; !status && i < farm->feature_count; i++)
            if (farm->features[i].role == kinds[k].role)
                status = add_mark(out, k, &farm->fields[index].shape->plane,
                                  &farm->features[i], err);
    }
    if (status)
        fw_plan__keep_release(out);
    return status;
}

void fw_plan__keep_release(struct fw_plan__keep *keep)
{
    for (size_t k = 0; k < FW_KEEP_COUNT; k++) {
        for (size_t i = 0; keep->marks[k] && i < keep->wanted[k].mark_count;
             i++)
            fw_free((void *)keep->marks[k][i].points);
        fw_free(keep->marks[k]);
    }
    *keep = (struct fw_plan__keep){0};
}

/* ---- what is said ---- */

/* "A03, A07", of the field's paddocks that are told for that kind. */
static void name_paddocks(const struct fw_plan *plan,
                          const struct fw_plan_field *field, const size_t *told,
                          size_t kind, struct fw_text *words)
{
    bool any = false;
    for (size_t i = 0; i < field->paddock_count; i++) {
        if (told[i] != kind + 1)
            continue;
        fw_text_addf(words, "%s%s", any ? ", " : "",
                     plan->paddocks[field->first_paddock + i].id);
        any = true;
    }
}

static double days_kept(const struct fw_plan *plan,
                        const struct fw_plan_field *field, const size_t *keep,
                        size_t kind)
{
    double days = 0;
    for (size_t i = 0; i < field->paddock_count; i++)
        if (keep[i] == kind + 1)
            days += plan->paddocks[field->first_paddock + i].stay_days;
    return days;
}

static enum fw_status say_short(struct fw_plan *plan,
                                const struct fw_plan_field *field,
                                const struct fw_layout *layout, size_t kind,
                                double wanted_days, struct fw_error *err)
{
    const double days = days_kept(plan, field, layout->keep, kind);
    struct fw_text words = {0};
    if (days >= wanted_days - FW_KEEP_MISSED_DAYS)
        return FW_OK;
    if (days > 0)
        fw_text_addf(&words, "kept for %s are %.2g of %g days",
                     kinds[kind].events, days, wanted_days);
    else
        fw_text_addf(&words, "no paddock is kept for %s", kinds[kind].events);
    struct fw_text barred = {0};
    name_paddocks(plan, field, layout->barred, kind, &barred);
    if (barred.bytes && barred.bytes[0])
        fw_text_addf(&words,
                     ": %s %s %s too, but the way in or to other paddocks "
                     "leads across",
                     barred.bytes, strchr(barred.bytes, ',') ? "have" : "has",
                     kinds[kind].what);
    else
        fw_text_addf(&words, ": no %spaddock holds or touches %s",
                     days > 0 ? "other " : "", kinds[kind].what);
    enum fw_status status =
        barred.failed ? fw_fail_memory(err) : fw_text_done(&words, err);
    if (!status)
        status = fw_notes_add(&plan->notes, FW_LEVEL_WARNING, field->name, err,
                              "%s", words.bytes);
    fw_text_release(&barred);
    fw_text_release(&words);
    return status;
}

enum fw_status fw_plan__keep_notes(const struct fw_plan_job *job, size_t index,
                                   const struct fw_layout *layout,
                                   struct fw_error *err)
{
    const struct fw_farm *farm = job->farm;
    struct fw_plan *plan = job->plan;
    enum fw_status status = FW_OK;
    for (size_t k = 0; !status && k < FW_KEEP_COUNT; k++) {
        if (!(farm->keep_days[k] > 0))
            continue;
        if (farm->mapped & 1U << kinds[k].role)
            status = say_short(plan, &plan->fields[index], layout, k,
                               farm->keep_days[k], err);
        else if (index == 0)
            status =
                fw_notes_add(&plan->notes, FW_LEVEL_WARNING, "keep", err,
                             "no map shows %s, so that no paddock is kept "
                             "for %s (maps: - {role: %s, source: ...})",
                             kinds[k].what, kinds[k].events, kinds[k].what);
    }
    return status;
}
