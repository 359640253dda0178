/* What is said of a log: sentences, table, rows and map read back, against the
 * log's own figures and sums by hand. */
#include "read_back.h"
#include "sample_plan.h"
#include "scratch.h"

#include "figures/days.h"
#include "figures/say.h"
#include "log/log.h"
#include "record/record.h"

#include <math.h>
#include <string.h>

static struct fw_quantities *quantities;
static struct scratch scratch;
static struct fw_log *log_of_days;

static int begin(void **state)
{
    return fw_quantities_new(&quantities, NULL) || read_sample(state);
}

static int end(void **state)
{
    fw_quantities_free(quantities);
    return free_sample(state);
}

static int before(void **state)
{
    (void)state;
    struct fw_notes notes = {0};
    struct fw_error err = {0};
    scratch_make(&scratch);
    const struct fw_log_request request = {.path = in_scratch(&scratch, "a"),
                                           .writer = true};
    if (fw_log_open(plan, &request, &log_of_days, &notes, &err))
        fail_msg("%s", err.text);
    fw_notes_release(&notes);
    return 0;
}

static int after(void **state)
{
    (void)state;
    fw_log_free(log_of_days);
    scratch_remove(scratch.path);
    return 0;
}

static void says(const char *parts)
{
    char text[256];
    struct fw_log_line line;
    struct fw_error err = {0};
    snprintf(text, sizeof text, "2000-01-01%s%s", parts[0] ? "; " : "", parts);
    if (fw_log_line_read(quantities, text, strlen(text), FW_METRIC, &line,
                         &err))
        fail_msg("%s: %s", parts, err.text);
    line.day = FW_NO_DAY;
    if (fw_log_say(log_of_days, &line, &err))
        fail_msg("%s: %s", parts, err.text);
}

static const struct fw_log_day *last_day(void)
{
    return &log_of_days->days[log_of_days->day_count - 1];
}

static char *recorded(void)
{
    char *text = NULL;
    struct fw_error err = {0};
    if (fw_report_recorded(log_of_days, last_day()->day, &text, &err))
        fail_msg("%s", err.text);
    is_set_as_a_page(text, 78);
    unfold(text, 0);
    return text;
}

/* ---- what is expected ---- */

static const char *share_words(double share, char text[60])
{
    const int percent = (int)lround(100 * (share - 1));
    if (percent == 0)
        snprintf(text, 60, "as much as the plan says");
    else
        snprintf(text, 60, "%d %% %s than the plan says", abs(percent),
                 percent > 0 ? "more" : "less");
    return text;
}

/* A height where the plan knows what a centimetre weighs. */
static const char *left_words(const struct fw_log_day *day, double kg_ha,
                              char text[60])
{
    const struct fw_plan_field *field =
        &plan->fields[plan->paddocks[day->paddock].field];
    const double cm = 100 * kg_ha * field->grass_m / field->mass_kg_ha;
    if (!(field->grass_m > 0))
        return fw_say_mass_per_area(kg_ha, plan->units, text);
    if (plan->units == FW_US)
        snprintf(text, 60, "%.1f in", cm / 2.54);
    else
        snprintf(text, 60, "%.1f cm", cm);
    return text;
}

/* The paddock that they come into. */
static size_t into(const struct fw_log_day *day)
{
    return plan->time.stays[plan->time.moves[day->move].stay].cell;
}

static double meant_kg_ha(const struct fw_log_day *day)
{
    return fmax(day->offer.floor_kg_ha,
                day->offer.stands_kg_ha - day->offer.taken_kg_ha);
}

static void look_is_said(const char *text, const struct fw_log_day *day)
{
    char words[400], left[60], meant[60], share[60];
    const char *id = plan->paddocks[day->paddock].id;
    if (!day->looked) {
        snprintf(words, sizeof words,
                 "Nobody looked at what they left in %s:", id);
        has_words(text, words);
        has_not(text, "They left");
        has_not(text, "By all looks");
        return;
    }
    const double stood = day->stood_kg_ha / day->offer.stands_kg_ha;
    snprintf(words, sizeof words,
             "They left %s in %s, where %s were meant: it had %s%s.",
             left_words(day, day->look.left_kg_ha, left), id,
             left_words(day, meant_kg_ha(day), meant),
             !day->look.limit ? ""
             : stood < 1      ? "at least "
                              : "at most ",
             share_words(stood, share));
    has_words(text, words);
    snprintf(words, sizeof words,
             "By all looks so far %s has %s; of ten of its paddocks nine have "
             "between %.0f and %.0f %% of it.",
             plan->fields[plan->paddocks[day->paddock].field].name,
             share_words(day->guess.share, share), 100 * day->guess.low,
             100 * day->guess.high);
    has_words(text, words);
}

static const char *day_words(int day, bool with_year, char text[40])
{
    static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu",
                                           "Fri", "Sat", "Sun"};
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr",
                                         "May", "Jun", "Jul", "Aug",
                                         "Sep", "Oct", "Nov", "Dec"};
    const int month = fw_date_month(day), year = fw_date_year(day);
    snprintf(text, 40, "%s %d %s", weekdays[fw_date_weekday(day)],
             day - fw_date_first(year, month) + 1, months[month - 1]);
    if (with_year)
        snprintf(text + strlen(text), 40 - strlen(text), " %d", year);
    return text;
}

static void title_is_said(const char *text, const struct fw_log_day *day)
{
    char words[200], date[40], way[100] = "";
    if (day->missed) {
        snprintf(way, sizeof way,
                 "nobody came, and they stayed where they were.");
    } else if (day->move == FW_NONE) {
        snprintf(way, sizeof way, "no move was due.");
    } else {
        const size_t to = plan->time.moves[day->move].stay;
        if (day->paddock != FW_NONE)
            snprintf(way, sizeof way, "out of %s and into %s.",
                     plan->paddocks[day->paddock].id,
                     plan->paddocks[plan->time.stays[to].cell].id);
        else
            snprintf(way, sizeof way, "into %s.",
                     plan->paddocks[plan->time.stays[to].cell].id);
    }
    snprintf(words, sizeof words, "%s, written down: %s",
             day_words(day->day, true, date), way);
    has_words(text, words);
}

static void next_is_said(const char *text)
{
    static const char *const not_smaller[] = {
        [FW_DAYS_NOT_WET] = "after one look in the rain; look again tomorrow.",
        [FW_DAYS_NOT_LEGUME] = "since hungry sheep bloat on so much legume.",
        [FW_DAYS_NOT_FROST] = "since hungry sheep bloat on frosted grass.",
    };
    const struct fw_log_next *next = &log_of_days->next;
    char words[300], date[40], how[100], size[100];
    int anew[2], meant[2];
    assert_true(next->fence != FW_NONE);
    assert_true(fw_log_paces_anew(plan, next->fence, next->paces, anew));
    assert_true(fw_log_paces_anew(plan, next->fence, 0, meant));
    if (anew[0] != meant[0] || anew[1] != meant[1])
        snprintf(how, sizeof how,
                 "at %d paces at A and %d at B, not %d and %d: ", anew[0],
                 anew[1], meant[0], meant[1]);
    else
        snprintf(how, sizeof how, "as meant: ");
    const int percent = (int)lround(100 * fabs(next->size - 1));
    if (next->why >= FW_DAYS_NOT_WET)
        snprintf(size, sizeof size, "is made no smaller %s",
                 not_smaller[next->why]);
    else if (percent == 0)
        snprintf(size, sizeof size, "is as large as they need by the plan.");
    else
        snprintf(size, sizeof size,
                 "is made %d %% %s than they need by the plan.", percent,
                 next->size > 1 ? "larger" : "smaller");
    snprintf(
        words, sizeof words, "%s: set %s %s%s %s",
        day_words(plan->time.moves[next->move].day + log_of_days->late_days,
                  false, date),
        plan->fences[next->fence].id, how, plan->paddocks[next->paddock].id,
        size);
    has_words(text, words);
}

/* ---- a week ---- */

static const char *const week[] = {
    "",
    "left 12cm; weather wet; minutes 15",
    "left 8cm; bellies hollow; note gate; \"loose\", wide",
    "missed",
    "left 5cm",
    "",
    "",
    "", /* no move is due */
    "left 9.4cm; weather frost; minutes 12; head 60",
    "left 13cm; weather frost",
    "bellies full",
    "left 9.4cm; bellies hollow",
};
enum { week_days = sizeof week / sizeof *week };

static void each_day_is_said_as_it_came_out(void **state)
{
    (void)state;
    int looked = 0, silent = 0, limits = 0, without = 0, whys = 0;
    for (int i = 0; i < week_days; i++) {
        says(week[i]);
        const struct fw_log_day *day = last_day();
        for (int units = 0; units < 3; units++) {
            struct fw_plan_field *field = &plan->fields[0];
            const double grass_m = field->grass_m;
            plan->units = units == 1 ? FW_US : FW_METRIC;
            field->grass_m = units == 2 ? 0 : grass_m;
            char *text = recorded();
            title_is_said(text, day);
            if (day->paddock != FW_NONE)
                look_is_said(text, day);
            next_is_said(text);
            char words[100];
            snprintf(words, sizeof words, "had to feed them for %d days",
                     day->day - day->entered);
            assert_int_equal(strstr(text, words) != NULL,
                             day->paddock != FW_NONE && day->too_low);
            snprintf(words, sizeof words, "Moves are %d day%s behind the plan;",
                     log_of_days->late_days,
                     log_of_days->late_days == 1 ? "" : "s");
            assert_int_equal(strstr(text, words) != NULL,
                             log_of_days->late_days > 0);
            fw_bytes_free(text);
            plan->units = FW_METRIC;
            field->grass_m = grass_m;
        }
        looked += day->looked;
        limits += day->looked && day->look.limit;
        silent += day->paddock != FW_NONE && !day->looked;
        without += day->move == FW_NONE;
        whys |= 1 << log_of_days->next.why;
    }
    assert_true(looked > 4 && limits > 1 && silent > 0 && without > 1);
    assert_true(whys & 1 << FW_DAYS_MORE && whys & 1 << FW_DAYS_NOT_WET &&
                whys & 1 << FW_DAYS_NOT_FROST);
}

/* In winter, where the flock drinks from a trough: wet, frost, neither; on a
 * day without a move it is the trough of the day before. */
static void a_winter_trough_follows_the_days_ground(void **state)
{
    (void)state;
    static const struct {
        const char *day, *says, *word;
    } days[] = {{"", NULL, NULL},
                {"weather wet", "It was wet: look at the ground", "look"},
                {"weather frost", "It froze: the trough may stay", "may-stay"},
                {"weather heat", NULL, NULL},
                {"missed; weather wet", "It was wet: look", "look"}};
    const enum fw_season season = plan->season;
    size_t drinks = FW_NONE;
    for (size_t i = 0; i < sizeof days / sizeof *days; i++) {
        says(days[i].day);
        if (last_day()->move != FW_NONE)
            drinks = plan->paddocks[into(last_day())].water;
        assert_true(drinks != FW_NONE);
        struct fw_plan_water *water = &plan->waters[drinks];
        const struct fw_plan_water was = *water;
        for (int dormant = 0; dormant < 2; dormant++)
            for (int moved = 0; moved < 2; moved++) {
                const bool said = dormant && moved && days[i].says;
                plan->season = dormant ? FW_SEASON_DORMANT : FW_SEASON_GROWTH;
                strcpy(water->kind_of, moved ? "trough" : "fixed");
                char *text = recorded(), *json = NULL;
                assert_int_equal(strstr(text, "the trough") != NULL, said);
                if (said)
                    has_words(text, days[i].says);
                fw_bytes_free(text);
                assert_int_equal(fw_report_recorded_json(
                                     log_of_days, last_day()->day, &json, NULL),
                                 FW_OK);
                struct json_object *root = parsed(json);
                fw_bytes_free(json);
                is_text(root, "trough", said ? days[i].word : NULL);
                json_object_put(root);
            }
        *water = was;
    }
    plan->season = season;
}

/* Of the readings at B of that fence the last one due by that day says what is
 * wanted there; told without a fence, nothing is said. */
static void volts_under_what_is_wanted_are_a_fault(void **state)
{
    (void)state;
    int faults = 0, right = 0;
    says("");
    for (int i = 1; i < 5; i++) {
        const size_t move = log_of_days->next_move;
        const struct fw_move *of = &plan->time.moves[move];
        const struct fw_plan_reading *last = NULL;
        for (size_t r = 0; r < plan->reading_count; r++)
            if (plan->readings[r].step < of->steps.first + of->steps.count)
                last = &plan->readings[r];
        assert_non_null(last);
        const char *id = plan->fences[last->fence].id;
        char parts[100], words[100];
        const double told_v = last->wanted_v + (i % 2 ? -150 : 1);
        snprintf(parts, sizeof parts, "open-v %.0fV@%s", told_v, id);
        says(parts);
        char *text = recorded();
        snprintf(words, sizeof words, "kV at %s is a fault:", id);
        assert_int_equal(strstr(text, words) != NULL,
                         round(told_v) < last->wanted_v);
        faults += strstr(text, "is a fault") != NULL;
        right += strstr(text, "is a fault") == NULL;
        fw_bytes_free(text);
    }
    says("open-v 100V");
    char *text = recorded();
    has_not(text, "is a fault");
    fw_bytes_free(text);
    assert_true(faults > 0 && right > 0);
}

/* ---- for machines ---- */

static void a_day_for_machines_has_the_figures(void **state)
{
    (void)state;
    static const char *const whys[] = {"as-meant", "more",       "less",
                                       "not-wet",  "not-legume", "not-frost"};
    const double none = (double)NAN;
    for (int i = 0; i < week_days; i++) {
        says(week[i]);
        const struct fw_log_day *day = last_day();
        const struct fw_log_next *next = &log_of_days->next;
        char *text = NULL, date[FW_DATE_TEXT];
        int anew[2];
        assert_int_equal(
            fw_report_recorded_json(log_of_days, day->day, &text, NULL), FW_OK);
        struct json_object *root = parsed(text);
        const bool from = day->paddock != FW_NONE;
        is_text(root, "date", fw_date_write(day->day, date));
        is_text(root, "from", from ? plan->paddocks[day->paddock].id : NULL);
        is_text(root, "to",
                day->move == FW_NONE ? NULL : plan->paddocks[into(day)].id);
        is_flag(root, "missed", day->missed);
        is_number(root, "late_days", log_of_days->late_days);
        is_number(root, "left_kg_ha",
                  day->looked ? day->look.left_kg_ha : none);
        is_number(root, "stood_kg_ha", day->looked ? day->stood_kg_ha : none);
        is_number(root, "share", from ? day->guess.share : none);
        is_number(root, "share_low", from ? day->guess.low : none);
        is_number(root, "share_high", from ? day->guess.high : none);
        struct json_object *then = of(root, "next");
        assert_true(fw_log_paces_anew(plan, next->fence, next->paces, anew));
        is_text(then, "fence", plan->fences[next->fence].id);
        is_text(then, "paddock", plan->paddocks[next->paddock].id);
        is_number(then, "size", next->size);
        is_number(then, "a_paces", anew[0]);
        is_number(then, "b_paces", anew[1]);
        is_text(then, "why", whys[next->why]);
        json_object_put(root);
        fw_bytes_free(text);
    }
}

/* When no fence is to be set any more. */
static void without_a_fence_there_is_no_next(void **state)
{
    (void)state;
    char *text = NULL;
    says("");
    log_of_days->next.fence = FW_NONE;
    assert_int_equal(
        fw_report_recorded_json(log_of_days, last_day()->day, &text, NULL),
        FW_OK);
    struct json_object *root = parsed(text);
    assert_null(of(root, "next"));
    json_object_put(root);
    fw_bytes_free(text);
    text = recorded();
    has_not(text, ": set ");
    fw_bytes_free(text);
}

static void a_day_that_is_not_there_is_refused(void **state)
{
    (void)state;
    char *text = NULL;
    says("");
    const int days[] = {plan->start_day - 1, plan->start_day + 1};
    for (int i = 0; i < 2; i++) {
        assert_int_equal(fw_report_recorded(log_of_days, days[i], &text, NULL),
                         FW_EFAULT);
        assert_int_equal(
            fw_report_recorded_json(log_of_days, days[i], &text, NULL),
            FW_EFAULT);
    }
}

/* ---- all days ---- */

/* The next cell of a row as RFC 4180 has it. */
static const char *cell(const char *from, char out[200])
{
    size_t n = 0;
    const bool quoted = *from == '"';
    from += quoted;
    while (quoted ? *from != '"' || from[1] == '"'
                  : *from != ',' && *from != '\r') {
        from += quoted && *from == '"';
        assert_true(n < 199 && *from);
        out[n++] = *from++;
    }
    out[n] = 0;
    from += quoted;
    return *from == ',' ? from + 1 : from;
}

static const char *text_cell(const char *from, const char *wanted)
{
    char got[200];
    from = cell(from, got);
    assert_string_equal(got, wanted);
    return from;
}

static const char *number_cell(const char *from, double wanted, bool known)
{
    char got[200];
    from = cell(from, got);
    if (known)
        assert_relative(strtod(got, NULL), wanted, 1e-12);
    assert_int_equal(got[0] != 0, known);
    return from;
}

/* By when each line goes up. */
static double set_m(size_t move)
{
    double sum_m = 0;
    for (size_t i = 0; i < plan->time.standing_count; i++)
        if (plan->time.standings[i].up.move == move)
            sum_m += plan->fences[plan->time.standings[i].line].length_m;
    return sum_m;
}

static void rows_have_a_day_each(void **state)
{
    (void)state;
    char *text = NULL;
    size_t count = 0;
    int late = 0;
    for (int i = 0; i < week_days; i++)
        says(week[i]);
    assert_int_equal(fw_report_days_csv(log_of_days, &text, &count, NULL),
                     FW_OK);
    assert_int_equal(count, strlen(text));
    const char *row = strstr(text, "\r\n") + 2;
    assert_non_null(
        strstr(text, ",late_days,set_m,rest_days,said_left,said_bellies,"));
    for (size_t i = 0; i < log_of_days->day_count; i++) {
        const struct fw_log_day *day = &log_of_days->days[i];
        const bool from = day->paddock != FW_NONE, move = day->move != FW_NONE;
        const size_t to = move ? into(day) : FW_NONE;
        char date[FW_DATE_TEXT];
        row = text_cell(row, fw_date_write(day->day, date));
        row = text_cell(
            row, from   ? plan->fields[plan->paddocks[day->paddock].field].name
                 : move ? plan->fields[plan->paddocks[to].field].name
                        : "");
        row = text_cell(row, from ? plan->paddocks[day->paddock].id : "");
        row = text_cell(row, move ? plan->paddocks[to].id : "");
        row = text_cell(row, day->missed ? "yes" : "no");
        row = text_cell(row, day->looked ? "yes" : "no");
        row = number_cell(row, day->offer.stands_kg_ha, from);
        row = number_cell(row, from ? meant_kg_ha(day) : 0, from);
        row = number_cell(row, move ? plan->time.moves[day->move].minutes : 0,
                          move);
        row = number_cell(row, day->stood_kg_ha, day->looked);
        row = number_cell(row, day->look.left_kg_ha, day->looked);
        row = number_cell(row, day->size, day->fence != FW_NONE);
        row = number_cell(row, day->guess.share, from);
        row = number_cell(row, day->guess.low, from);
        row = number_cell(row, day->guess.high, from);
        late += day->missed;
        row = number_cell(row, late, true);
        row = number_cell(row, move ? set_m(day->move) : 0, move);
        row = number_cell(
            row, log_of_days->days[log_of_days->day_count - 1].day - day->day,
            from);
        for (int k = 0; k < FW_LOG_PARTS; k++) {
            const struct fw_log_value *said =
                day->said ? &day->said->values[k] : NULL;
            row = text_cell(row, !said || !said->told ? ""
                                 : k == FW_LOG_MISSED ? "yes"
                                                      : said->text);
        }
        assert_memory_equal(row, "\r\n", 2);
        row += 2;
    }
    assert_int_equal(*row, 0);
    assert_int_equal(late, 1);
    fw_bytes_free(text);
}

static void a_table_of_days_has_what_was_meant_and_left(void **state)
{
    (void)state;
    char *text = NULL;
    double said_min = 0, planned_min = 0, timed_m = 0;
    size_t looks = 0;
    for (int i = 0; i < week_days; i++)
        says(week[i]);
    assert_int_equal(fw_report_days(log_of_days, false, &text, NULL), FW_OK);
    const char *row = strchr(text, '\n') + 1;
    for (size_t i = 0; i < log_of_days->day_count; i++) {
        const struct fw_log_day *day = &log_of_days->days[i];
        const bool from = day->paddock != FW_NONE;
        char wanted[500], date[40], meant[60] = "", left[60] = "";
        char stood[20] = "";
        if (from)
            left_words(day, meant_kg_ha(day), meant);
        if (day->looked) {
            left_words(day, day->look.left_kg_ha, left);
            snprintf(stood, sizeof stood, "%.0f %%",
                     100 * day->stood_kg_ha / day->offer.stands_kg_ha);
            looks++;
        }
        const struct fw_log_value *note =
            day->said ? &day->said->values[FW_LOG_NOTE] : NULL;
        snprintf(wanted, sizeof wanted, "%-10s  %-8s %-8s %-9s %-9s %6s  %s%s",
                 day_words(day->day, false, date),
                 from ? plan->paddocks[day->paddock].id : "",
                 day->move == FW_NONE ? "" : plan->paddocks[into(day)].id,
                 meant, left, stood,
                 day->missed            ? "missed "
                 : from && !day->looked ? "not looked at "
                                        : "",
                 note && note->told ? note->text : "");
        size_t length = strlen(wanted);
        while (wanted[length - 1] == ' ')
            wanted[--length] = 0;
        const size_t line = strcspn(row, "\n");
        if (line != length || memcmp(row, wanted, length) != 0)
            fail_msg("\"%.*s\"; expected \"%s\"", (int)line, row, wanted);
        row += line + 1;
        if (day->said && day->said->values[FW_LOG_MINUTES].told &&
            day->move != FW_NONE) {
            said_min += day->said->values[FW_LOG_MINUTES].number;
            planned_min += plan->time.moves[day->move].minutes;
            timed_m += set_m(day->move);
        }
    }
    is_set_as_a_page(text, 90);
    assert_memory_equal(row, "\nWHAT IT COMES TO\n", 18);
    unfold(text, 2);
    char words[300], share[60];
    const struct fw_days_guess guess = fw_days_eye_zone(log_of_days->eye, 0);
    const struct fw_days_guess bias = fw_days_eye_bias(log_of_days->eye);
    snprintf(words, sizeof words, "%s has %s (%.0f to %.0f %%), by %zu looks.",
             plan->fields[0].name, share_words(guess.share, share),
             100 * guess.low, 100 * guess.high, looks);
    has_words(text, words);
    snprintf(words, sizeof words,
             "Of all fields together there is %s (give or take %.0f %%), and a "
             "look at what is left is off by %.0f %%.",
             share_words(bias.share, share), 100 * bias.spread,
             100 * fw_days_eye_noise(log_of_days->eye));
    has_words(text, words);
    snprintf(words, sizeof words,
             "Moves took %.0f minutes, where the plan has %.0f: %.1f minutes "
             "for 100 m of fence that was set, not %.1f.",
             said_min, planned_min, 100 * said_min / timed_m,
             100 * planned_min / timed_m);
    has_words(text, words);
    assert_true(said_min > 20);
    fw_bytes_free(text);
}

static void without_a_look_there_are_no_sums(void **state)
{
    (void)state;
    char *text = NULL;
    assert_int_equal(fw_report_days(log_of_days, false, &text, NULL), FW_OK);
    has_words(text, "Nothing is written down yet.");
    fw_bytes_free(text);
    says("");
    says("");
    assert_int_equal(fw_report_days(log_of_days, false, &text, NULL), FW_OK);
    has_not(text, "Nothing is written down yet.");
    has_not(text, "WHAT IT COMES TO");
    has_not(text, "Moves took");
    fw_bytes_free(text);
    says("left 9.4cm");
    assert_int_equal(fw_report_days(log_of_days, false, &text, NULL), FW_OK);
    has_words(text, "WHAT IT COMES TO");
    has_words(text, ", by 1 look.");
    fw_bytes_free(text);
}

/* Of all fields together, how sure that is, and how far a look is off: after
 * two looks at any height, in turn with one at another. */
static void what_is_off_is_told_after_each_look(void **state)
{
    for (int mm = 35; mm <= 185; mm += 5)
        for (int i = 0; i < 3; i++) {
            char look[40], words[300], share[60], *text = NULL;
            snprintf(look, sizeof look, "left %.1fcm",
                     (i == 2 ? 220 - mm : mm) / 10.0);
            says(i ? look : "");
            assert_int_equal(fw_report_days(log_of_days, false, &text, NULL),
                             FW_OK);
            unfold(text, 2);
            const struct fw_days_guess bias =
                fw_days_eye_bias(log_of_days->eye);
            snprintf(words, sizeof words,
                     "Of all fields together there is %s (give or take %ld "
                     "%%), and a look at what is left is off by %ld %%.",
                     share_words(bias.share, share), lround(100 * bias.spread),
                     lround(100 * fw_days_eye_noise(log_of_days->eye)));
            assert_int_equal(strstr(text, words) != NULL, i > 0);
            fw_bytes_free(text);
            if (i == 2) { /* begin anew */
                after(state);
                before(state);
            }
        }
}

/* A day for each day since they left, of each paddock in its order. */
static void days_of_rest_are_listed(void **state)
{
    (void)state;
    static const char begin_words[] = "Days of rest by ";
    char *text = NULL;
    says("");
    assert_int_equal(fw_report_days(log_of_days, false, &text, NULL), FW_OK);
    has_not(text, begin_words); /* they left none yet */
    fw_bytes_free(text);
    for (int i = 1; i < week_days; i++) {
        char words[600], date[40];
        says(week[i]);
        size_t left = 0;
        int used = snprintf(words, sizeof words, "%s%s: ", begin_words,
                            day_words(last_day()->day, false, date));
        for (size_t k = 0; k < log_of_days->day_count; k++) {
            const struct fw_log_day *day = &log_of_days->days[k];
            if (day->paddock == FW_NONE)
                continue;
            used +=
                snprintf(words + used, sizeof words - (size_t)used, "%s%s %d",
                         left++ ? ", " : "", plan->paddocks[day->paddock].id,
                         last_day()->day - day->day);
        }
        snprintf(words + used, sizeof words - (size_t)used, ".");
        assert_int_equal(fw_report_days(log_of_days, false, &text, NULL),
                         FW_OK);
        unfold(text, 2);
        if (left)
            has_words(text, words);
        assert_int_equal(strstr(text, begin_words) != NULL, left > 0);
        fw_bytes_free(text);
    }
}

/* Cards of a plan that goes on reckon with minutes that were timed on days
 * enough and came out otherwise. */
static void cards_reckon_with_what_was_timed(void **state)
{
    (void)state;
    static const char words[] = "The cards reckon with that.";
    int reckoned = 0, not_yet = 0;
    for (int i = 0; i < 8; i++) {
        says("minutes 40");
        size_t timed = 0;
        for (size_t k = 0; k < log_of_days->day_count; k++)
            timed += log_of_days->days[k].move != FW_NONE;
        for (int own = 0; own < 2; own++) {
            char *text = NULL;
            log_of_days->own = own ? plan : NULL;
            assert_int_equal(fw_report_days(log_of_days, false, &text, NULL),
                             FW_OK);
            log_of_days->own = NULL;
            unfold(text, 2);
            const bool wanted = own && timed >= FW_DAYS_TIMED;
            assert_int_equal(strstr(text, words) != NULL, wanted);
            reckoned += wanted;
            not_yet += own && !wanted;
            fw_bytes_free(text);
        }
    }
    assert_true(reckoned > 0 && not_yet > 0);
}

/* A field that turned out so is said to be so, to the nearest percent. */
static void a_percent_is_more_or_less(void **state)
{
    (void)state;
    static const struct {
        double share;
        const char *words;
    } rows[] = {{1.01, "1 % more than"},   {0.99, "1 % less than"},
                {1.0051, "1 % more than"}, {0.9949, "1 % less than"},
                {1.0049, "as much as"},    {0.9951, "as much as"},
                {1.5, "50 % more than"},   {0.25, "75 % less than"}};
    says("");
    says("left 9cm");
    struct fw_log_day *day = &log_of_days->days[log_of_days->day_count - 1];
    assert_true(day->looked && day->paddock != FW_NONE);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char words[100];
        day->guess.share = rows[i].share;
        char *text = recorded();
        snprintf(words, sizeof words, "By all looks so far %s has %s the plan",
                 plan->fields[plan->paddocks[day->paddock].field].name,
                 rows[i].words);
        has_words(text, words);
        fw_bytes_free(text);
    }
}

/* One day that it had to feed them for is one day. */
static void grass_eaten_too_low_is_told_with_its_days(void **state)
{
    (void)state;
    says("");
    says("left 5cm");
    struct fw_log_day *day = &log_of_days->days[log_of_days->day_count - 1];
    day->too_low = true;
    for (int days = 1; days < 4; days++) {
        char words[100];
        day->entered = day->day - days;
        char *text = recorded();
        snprintf(words, sizeof words, "had to feed them for %d day%s: by", days,
                 days == 1 ? "" : "s");
        has_words(text, words);
        fw_bytes_free(text);
    }
}

/* Where all that is left of the block is theirs no fence is set. */
static void the_rest_of_a_block_takes_no_fence(void **state)
{
    (void)state;
    says("");
    says("left 9cm");
    char *text = recorded();
    has_not(text, "not at all");
    fw_bytes_free(text);
    log_of_days->next.rest = true;
    text = recorded();
    char words[200];
    snprintf(words, sizeof words,
             "set %s not at all, all that is left of the block is theirs: %s ",
             plan->fences[log_of_days->next.fence].id,
             plan->paddocks[log_of_days->next.paddock].id);
    has_words(text, words);
    has_not(text, "paces at A");
    has_not(text, "as meant");
    fw_bytes_free(text);
}

/* ---- the map ---- */

/* Of a ring in degrees, by the two radii of the ellipsoid there. */
static double ring_ha(struct json_object *ring)
{
    const size_t count = json_object_array_length(ring);
    double sum = 0, lat = 0;
    for (size_t i = 0; i + 1 < count; i++)
        lat += json_object_get_double(at(at(ring, i), 1)) / (double)(count - 1);
    const double rad = acos(-1.0) / 180, s = sin(lat * rad);
    const double w = 1 - 0.00669437999 * s * s;
    const double north = 6378137 * (1 - 0.00669437999) / pow(w, 1.5) * rad;
    const double east = 6378137 / sqrt(w) * cos(lat * rad) * rad;
    for (size_t i = 0; i + 1 < count; i++) {
        const double x = json_object_get_double(at(at(ring, i), 0));
        const double y = json_object_get_double(at(at(ring, i), 1)) - lat;
        const double u = json_object_get_double(at(at(ring, i + 1), 0));
        const double v = json_object_get_double(at(at(ring, i + 1), 1)) - lat;
        sum += x * v - u * y;
    }
    assert_string_equal(json_object_get_string(at(ring, 0)),
                        json_object_get_string(at(ring, count - 1)));
    return sum / 2 * east * north / 1e4;
}

static void grazed_ground_is_drawn_where_it_lies(void **state)
{
    (void)state;
    char *text = NULL;
    size_t count = 0, drawn = 0;
    for (int i = 0; i < week_days; i++)
        says(week[i]);
    assert_int_equal(fw_report_grazed(log_of_days, &text, &count, NULL), FW_OK);
    struct json_object *root = parsed(text);
    struct json_object *features = of(root, "features");
    for (size_t i = 0; i < log_of_days->day_count; i++) {
        const struct fw_log_day *day = &log_of_days->days[i];
        if (day->paddock == FW_NONE)
            continue;
        const struct fw_plan_paddock *paddock = &plan->paddocks[day->paddock];
        struct json_object *feature = at(features, drawn++);
        struct json_object *has = of(feature, "properties");
        struct json_object *geometry = of(feature, "geometry");
        char date[FW_DATE_TEXT];
        is_text(has, "kind", "grazed");
        is_text(has, "paddock", paddock->id);
        is_text(has, "field", plan->fields[paddock->field].name);
        is_text(has, "enter", fw_date_write(day->entered, date));
        is_text(has, "leave", fw_date_write(day->day, date));
        is_number(has, "area_ha", paddock->area_ha);
        is_number(has, "planned_left_kg_ha", meant_kg_ha(day));
        is_number(has, "left_kg_ha",
                  day->looked ? day->look.left_kg_ha : (double)NAN);
        is_number(has, "stood_kg_ha",
                  day->looked ? day->stood_kg_ha : (double)NAN);
        is_text(geometry, "type", "Polygon");
        assert_relative(ring_ha(at(of(geometry, "coordinates"), 0)),
                        paddock->area_ha, 1e-4);
    }
    assert_int_equal(json_object_array_length(features), drawn);
    assert_true(drawn > 5);
    json_object_put(root);
    fw_bytes_free(text);
}

#define one(test) cmocka_unit_test_setup_teardown(test, before, after)

int main(void)
{
    const struct CMUnitTest tests[] = {
        one(each_day_is_said_as_it_came_out),
        one(a_winter_trough_follows_the_days_ground),
        one(volts_under_what_is_wanted_are_a_fault),
        one(a_day_for_machines_has_the_figures),
        one(without_a_fence_there_is_no_next),
        one(a_day_that_is_not_there_is_refused),
        one(rows_have_a_day_each),
        one(a_table_of_days_has_what_was_meant_and_left),
        one(without_a_look_there_are_no_sums),
        one(what_is_off_is_told_after_each_look),
        one(days_of_rest_are_listed),
        one(cards_reckon_with_what_was_timed),
        one(a_percent_is_more_or_less),
        one(grass_eaten_too_low_is_told_with_its_days),
        one(the_rest_of_a_block_takes_no_fence),
        one(grazed_ground_is_drawn_where_it_lies),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
