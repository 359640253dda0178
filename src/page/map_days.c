/* The days of a plan for the page: what changes from evening to evening, as the
 * replay of the plan's time has it, and the moves with their steps. */
#include "page/map_page.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "live/live.h"
#include "report/report.h"
#include "report/steps.h"
#include "sheet/card.h"

#include <math.h>
#include <string.h>

/* ---- moves ---- */

/* The lines of all steps of that kind. */
static void lines_of(struct fw_text *json, const struct fw_plan *plan,
                     size_t move, enum fw_step_kind kind, const char *name)
{
    const struct fw_time *time = &plan->time;
    const struct fw_list *steps = &time->moves[move].steps;
    bool first = true;
    fw_text_addf(json, ",\"%s\":[", name);
    for (size_t i = steps->first; i < steps->first + steps->count; i++)
        for (size_t k = 0;
             time->steps[i].kind == kind && k < time->steps[i].lines.count;
             k++) {
            fw_text_addf(json, "%s%zu", first ? "" : ",",
                         time->items[time->steps[i].lines.first + k]);
            first = false;
        }
    fw_text_add(json, "]");
}

static void steps(struct fw_text *json, const struct fw_plan *plan, size_t move)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    fw_text_add(json, ",\"steps\":[");
    for (size_t i = 0; i < steps->count; i++) {
        struct fw_text line = {0};
        const struct fw_report_saying saying = {
            plan, move, &plan->time.steps[steps->first + i], steps->first + i,
            false};
        fw_report_say_brief(&line, &saying);
        json->failed |= line.failed;
        fw_text_add(json, i ? "," : "");
        fw_text_add_json(json, line.failed || !line.bytes ? "" : line.bytes);
        fw_text_release(&line);
    }
    fw_text_add(json, "]");
}

/* "2 lines: 31 posts, 2 reels, 231 m of wire; water and mineral" */
static void carried(struct fw_text *json, const struct fw_plan *plan,
                    size_t move)
{
    const struct fw_card_kit kit = fw_card_kit(plan, move);
    const bool water = plan->time.moves[move].carries;
    struct fw_text words = {0};
    char wire[FW_WORDS];
    if (kit.lines > 0)
        fw_text_addf(&words, "%zu line%s: %d post%s, %d reel%s, %s of wire",
                     kit.lines, kit.lines == 1 ? "" : "s", kit.posts,
                     kit.posts == 1 ? "" : "s", kit.reels,
                     kit.reels == 1 ? "" : "s",
                     fw_report_length(kit.wire_m, plan->units, wire));
    if (water)
        fw_text_addf(&words, "%swater and mineral", kit.lines > 0 ? "; " : "");
    if (kit.lines == 0 && !water)
        fw_text_add(&words, "nothing");
    fw_text_add(json, ",\"carried\":");
    json->failed |= words.failed;
    fw_text_add_json(json, words.failed ? "" : words.bytes);
    fw_text_release(&words);
}

static void index_of(struct fw_text *json, const char *name, size_t index)
{
    if (index != FW_NONE)
        fw_text_addf(json, ",\"%s\":%zu", name, index);
}

/* The line whose reading is written down: the last one that is read. */
static size_t read_at(const struct fw_plan *plan, size_t move)
{
    const struct fw_list *steps = &plan->time.moves[move].steps;
    size_t fence = FW_NONE;
    for (size_t i = 0; i < plan->reading_count; i++)
        if (plan->readings[i].step >= steps->first &&
            plan->readings[i].step < steps->first + steps->count)
            fence = plan->readings[i].fence;
    return fence;
}

static void one_move(struct fw_text *json, const struct fw_plan *plan,
                     size_t index)
{
    const struct fw_move *move = &plan->time.moves[index];
    struct fw_text title = {0};
    fw_report_move_title(&title, plan, index);
    json->failed |= title.failed;
    fw_text_addf(json, "{\"day\":%d,\"title\":", move->day - plan->start_day);
    fw_text_add_json(json, title.failed ? "" : title.bytes);
    fw_text_release(&title);
    index_of(json, "from", fw_plan_move_from(plan, index));
    index_of(json, "to", fw_plan_move_to(plan, index));
    index_of(json, "read", read_at(plan, index));
    fw_text_addf(json, ",\"minutes\":%.0f", ceil(move->minutes));
    lines_of(json, plan, index, FW_STEP_SET, "set");
    lines_of(json, plan, index, FW_STEP_TAKE_DOWN, "down");
    carried(json, plan, index);
    steps(json, plan, index);
    fw_text_add(json, "}");
}

/* ---- days ---- */

struct day_list { /* of one of these: as it is, and as it was the evening before
                   */
    const char *name;
    bool *now, *before;
    size_t count;
};
enum { STANDS, LIVE, GRAZED, FLOCK, OPEN, LISTS };

static void lists_free(struct day_list lists[LISTS])
{
    for (size_t i = 0; i < LISTS; i++) {
        fw_free(lists[i].now);
        fw_free(lists[i].before);
    }
}

static enum fw_status lists_make(struct day_list lists[LISTS],
                                 const struct fw_plan *plan,
                                 struct fw_error *err)
{
    const size_t cells = plan->paddock_count + plan->lane_count;
    const struct day_list all[LISTS] = {
        [STANDS] = {"stands", NULL, NULL, plan->fence_count},
        [LIVE] = {"live", NULL, NULL, plan->fence_count},
        [GRAZED] = {"grazed", NULL, NULL, cells},
        [FLOCK] = {"flock", NULL, NULL, cells},
        [OPEN] = {"open", NULL, NULL, plan->gate_count},
    };
    bool failed = false;
    for (size_t i = 0; i < LISTS; i++) {
        lists[i] = all[i];
        lists[i].now = fw_alloc(all[i].count + 1, sizeof *lists[i].now);
        lists[i].before = fw_alloc(all[i].count + 1, sizeof *lists[i].now);
        failed |= !lists[i].now || !lists[i].before;
    }
    return failed ? fw_fail_memory(err) : FW_OK;
}

/* Which have become so since the evening before, and which are no more; nothing
 * where nothing changed. */
static void changes(struct fw_text *json, struct day_list *list)
{
    if (memcmp(list->now, list->before, list->count * sizeof *list->now) == 0)
        return;
    fw_text_addf(json, ",\"%s\":[[", list->name);
    for (int gone = 0; gone < 2; gone++) {
        bool first = true;
        for (size_t i = 0; i < list->count; i++)
            if (list->now[i] != list->before[i] &&
                list->now[i] == (gone == 0)) {
                fw_text_addf(json, "%s%zu", first ? "" : ",", i);
                first = false;
            }
        fw_text_add(json, gone ? "]]" : "],[");
    }
    memcpy(list->before, list->now, list->count * sizeof *list->now);
}

/* The edges of fields always stand. A line that nothing leads to is not live,
 * though it should be. */
static void look(struct day_list lists[LISTS],
                 struct fw_plan__circuits *circuits, int day)
{
    const struct fw_plan *plan = circuits->plan;
    struct fw_replay *replay = &circuits->days.replay;
    size_t ground_count;
    for (size_t i = 0; i < plan->fence_count; i++) {
        lists[STANDS].now[i] =
            plan->fences[i].role != FW_FENCE_PERIMETER && replay->stands[i];
        lists[LIVE].now[i] = false;
    }
    fw_plan__find_live(circuits, day);
    for (size_t i = 0; i < circuits->live_count; i++) {
        const struct fw_plan_fence *fence = &plan->fences[circuits->live[i]];
        lists[LIVE].now[circuits->live[i]] =
            fence->volts_known && fence->open_v > 0;
    }
    for (size_t i = 0; i < lists[GRAZED].count; i++) {
        lists[GRAZED].now[i] = i < plan->paddock_count && replay->grazed[i];
        lists[FLOCK].now[i] = false;
    }
    const size_t *ground = fw_replay_ground(replay, &ground_count);
    for (size_t i = 0; i < ground_count; i++)
        if (ground[i] < lists[FLOCK].count)
            lists[FLOCK].now[ground[i]] = true;
    for (size_t i = 0; i < lists[OPEN].count; i++)
        lists[OPEN].now[i] = replay->open[i];
}

static enum fw_status days(struct fw_text *json, const struct fw_plan *plan,
                           struct fw_plan__circuits *circuits,
                           struct fw_error *err)
{
    struct day_list lists[LISTS] = {{0}};
    enum fw_status status = lists_make(lists, plan, err);
    const size_t moves = plan->time.move_count;
    const int last =
        moves > 0 ? plan->time.moves[moves - 1].day : plan->end_day;
    fw_text_add(json, ",\"days\":[");
    for (int day = plan->start_day; !status && day <= last; day++) {
        char date[FW_DATE_TEXT], words[FW_WORDS];
        status = fw_plan__days_to(&circuits->days, day, err);
        if (status)
            break;
        look(lists, circuits, day);
        fw_text_addf(json, "%s{\"date\":\"%s\",\"words\":\"%s\"",
                     day > plan->start_day ? ",\n" : "\n",
                     fw_date_write(day, date), fw_report_day(day, true, words));
        for (size_t i = 0; i < LISTS; i++)
            changes(json, &lists[i]);
        fw_text_add(json, "}");
    }
    fw_text_add(json, "]");
    lists_free(lists);
    return status;
}

enum fw_status fw_map_days(struct fw_text *json, const struct fw_plan *plan,
                           struct fw_error *err)
{
    struct fw_plan__circuits circuits;
    fw_text_add(json, "\"moves\":[");
    for (size_t i = 0; i < plan->time.move_count; i++) {
        fw_text_add(json, i ? ",\n" : "\n");
        one_move(json, plan, i);
    }
    fw_text_add(json, "]");
    enum fw_status status =
        fw_plan__circuits_init(&circuits, plan, &plan->wiring, err);
    if (status)
        return status;
    status = days(json, plan, &circuits, err);
    fw_plan__circuits_release(&circuits);
    return status;
}
