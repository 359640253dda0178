/* The lines of a log, and what they come to beside the sample's plan. */
#include "sample_plan.h"
#include "scratch.h"

#include "io/io.h"
#include "log/follow.h"

#include <stdlib.h>
#include <string.h>

/* No number. */
#define NONE ((double)NAN)

static struct fw_quantities *quantities;

static int begin(void **state)
{
    return fw_quantities_new(&quantities, NULL) || read_sample(state);
}

static int end(void **state)
{
    fw_quantities_free(quantities);
    return free_sample(state);
}

/* ---- a line ---- */

static void a_line_comes_back_as_it_was_written(void **state)
{
    (void)state;
    static const char *const lines[] = {
        "2027-05-20\n",
        "2027-05-20; of A03; left 9 cm; bellies full; open-v 5.6kV@A03-04; "
        "head 88; fence 14,11; minutes 22; hay 60kg; weather wet; note gate; "
        "loose, \"ours\"\n",
        "2027-05-20; missed\n",
        "2027-05-20; correct; left short\n",
        "2027-05-20; undo\n",
    };
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        struct fw_log_line line;
        struct fw_error err;
        struct fw_text text = {0};
        if (fw_log_line_read(quantities, lines[i], strlen(lines[i]) - 1,
                             FW_METRIC, &line, &err))
            fail_msg("%s: %s", lines[i], err.text);
        fw_log_line_write(&text, &line);
        assert_string_equal(text.bytes, lines[i]);
        fw_text_release(&text);
    }
}

/* What is no letter becomes a blank, of which none is left at an end. */
static void a_note_ends_with_a_letter(void **state)
{
    (void)state;
    static const char said[] = "2027-05-20; note \001gate post\027\t";
    struct fw_log_line line;
    struct fw_error err;
    struct fw_text text = {0};
    if (fw_log_line_read(quantities, said, strlen(said), FW_METRIC, &line,
                         &err))
        fail_msg("%s", err.text);
    fw_log_line_write(&text, &line);
    assert_string_equal(text.bytes, "2027-05-20; note gate post\n");
    fw_text_release(&text);
}

/* So does the ground, and a byte of nothing is the end of it. */
static void ground_ends_with_a_letter(void **state)
{
    (void)state;
    static const char said[] = "2027-05-20; of A03 \0\0\0 2 cm; missed";
    struct fw_log_line line;
    struct fw_error err;
    struct fw_text text = {0};
    if (fw_log_line_read(quantities, said, sizeof said - 1, FW_METRIC, &line,
                         &err))
        fail_msg("%s", err.text);
    fw_log_line_write(&text, &line);
    assert_string_equal(text.bytes, "2027-05-20; of A03; missed\n");
    fw_text_release(&text);
}

static void a_part_is_read_as_its_row_says(void **state)
{
    (void)state;
    static const struct {
        enum fw_log_part part;
        const char *text;
        double number, other; /* NONE: none is told */
        int word;
        const char *at;
    } rows[] = {
        {FW_LOG_LEFT, "9cm", 0.09, NONE, -1, ""},
        {FW_LOG_LEFT, "4 in", 0.1016, NONE, -1, ""},
        {FW_LOG_LEFT, "long", NONE, NONE, FW_LOG_LONG, ""},
        {FW_LOG_LEFT, "half", NONE, NONE, FW_LOG_HALF, ""},
        {FW_LOG_BELLIES, "hollow", NONE, NONE, FW_LOG_HOLLOW, ""},
        {FW_LOG_OPEN_V, "5.6kV@A03-04", 5600, NONE, -1, "A03-04"},
        {FW_LOG_OPEN_V, "5600 V", 5600, NONE, -1, ""},
        {FW_LOG_HEAD, "88", 88, NONE, -1, ""},
        {FW_LOG_LAMBS, "140", 140, NONE, -1, ""},
        {FW_LOG_WEANED, "96 28kg", 96, 28, -1, ""},
        {FW_LOG_WEANED, "96  60 lb", 96, 27.2155422, -1, ""},
        {FW_LOG_WEANED, "0", 0, NONE, -1, ""},
        {FW_LOG_FENCE, "14,11", 14, 11, -1, ""},
        {FW_LOG_FENCE, "14, 11", 14, 11, -1, ""},
        {FW_LOG_FENCE, "14", 14, NONE, -1, ""},
        {FW_LOG_MINUTES, "22", 22, NONE, -1, ""},
        {FW_LOG_MINUTES, "0.5 h", 30, NONE, -1, ""},
        {FW_LOG_HAY, "60kg", 60, NONE, -1, ""},
        {FW_LOG_WEATHER, "frost", NONE, NONE, FW_LOG_FROST, ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_log_value value;
        struct fw_error err;
        if (fw_log_value_read(quantities, rows[i].part, rows[i].text, FW_METRIC,
                              &value, &err))
            fail_msg("%s: %s", rows[i].text, err.text);
        assert_true(value.told);
        assert_string_equal(value.text, rows[i].text);
        assert_string_equal(value.at, rows[i].at);
        assert_int_equal(value.word, rows[i].word);
        assert_int_equal(isnan(value.number), isnan(rows[i].number));
        assert_int_equal(isnan(value.other), isnan(rows[i].other));
        if (!isnan(rows[i].number))
            assert_near(value.number, rows[i].number, 1e-9);
        if (!isnan(rows[i].other))
            assert_near(value.other, rows[i].other, 1e-9);
    }
}

static void what_is_no_part_is_told_with_what_works(void **state)
{
    (void)state;
    static const struct {
        const char *line, *said;
    } rows[] = {
        {"2027-05-20; left 9", "left: \"9\" is no height"},
        {"2027-05-20; left tall", "left: \"tall\" is no height and none of "
                                  "short, right, long, clean, some, third, "
                                  "half"},
        {"2027-05-20; left -3cm", "left: "},
        {"2027-05-20; bellies empty", "bellies: \"empty\" is none of hollow, "
                                      "full"},
        {"2027-05-20; open-v 5.6", "open-v: "},
        {"2027-05-20; open-v 5.6kV@", "open-v: \"5.6kV@\" names no fence"},
        {"2027-05-20; head 8.5", "head: "},
        {"2027-05-20; lambs 1.5", "lambs: "},
        {"2027-05-20; weaned 96", "weaned: \"96\" says no weight of a lamb; "
                                  "write it as \"96 28kg\", or 0 where they "
                                  "go"},
        {"2027-05-20; weaned all", "weaned: "},
        {"2027-05-20; weaned 96 280kg", "a lamb weighs 1 to 200 kg"},
        {"2027-05-20; fence 1,2,3", "fence: \"1,2,3\" has more than two ends"},
        {"2027-05-20; fence 99999", "fence: 99999 paces; expected up to 5000"},
        {"2027-05-20; weather snow", "weather: \"snow\" is none of wet, frost, "
                                     "heat"},
        {"2027-05-20; belly full", "\"belly\" is no part of a day"},
        {"2027-05-20; lef 9cm", "did you mean left?"},
        {"2027-05-20; left 9cm; left 8cm", "left is told twice"},
        {"2027-05-20; left", "left: nothing is told; write it as 9cm"},
        {"20 May; left 9cm", "\"20 May\" is not a date"},
        {"2027-02-30", "the day is 30"},
        {"; left 9cm", "is not a date"},
        {"2027-05-20; of", "of: names no paddock"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct fw_log_line line;
        struct fw_error err = {FW_OK, ""};
        assert_int_equal(fw_log_line_read(quantities, rows[i].line,
                                          strlen(rows[i].line), FW_METRIC,
                                          &line, &err),
                         FW_EINPUT);
        if (!strstr(err.text, rows[i].said))
            fail_msg("%s: said \"%s\"; expected \"%s\"", rows[i].line, err.text,
                     rows[i].said);
    }
}

/* ---- all lines ---- */

static struct fw_log_lines read_lines(const char *text, struct fw_notes *notes,
                                      bool *torn)
{
    struct fw_log_lines lines = {0}, by_day = {0};
    struct fw_error err;
    const struct fw_log_source source = {"log", text, strlen(text), FW_METRIC};
    if (fw_log_lines_read(&source, &lines, notes, &err) ||
        fw_log_lines_by_day(&lines, &by_day, &err))
        fail_msg("%s", err.text);
    *torn = lines.torn;
    fw_log_lines_release(&lines);
    return by_day;
}

static void lines_come_to_days_corrected_and_taken_back(void **state)
{
    (void)state;
    struct fw_notes notes = {0};
    bool torn;
    struct fw_log_lines days = read_lines("# ours\n"
                                          "2027-05-19; left 9cm; head 61\n"
                                          "\n"
                                          "2027-05-18; left 8cm\r\n"
                                          "2027-05-19; correct; left 7cm\n"
                                          "2027-05-20; left 3cm\n"
                                          "2027-05-20; undo\n"
                                          "2027-05-20; left 5cm\n"
                                          "2027-05-21; left 9 # torn\n",
                                          &notes, &torn);
    assert_int_equal(notes.count, 0);
    assert_false(torn);
    assert_int_equal(days.count, 3);
    assert_near(days.items[0].values[FW_LOG_LEFT].number, 0.08, 1e-12);
    assert_near(days.items[1].values[FW_LOG_LEFT].number, 0.07, 1e-12);
    assert_near(days.items[1].values[FW_LOG_HEAD].number, 61, 0);
    assert_near(days.items[2].values[FW_LOG_LEFT].number, 0.05, 1e-12);
    fw_log_lines_release(&days);
    fw_notes_release(&notes);
}

/* Mended by hand into nonsense: each line is named, the others count. */
static void nonsense_is_named_and_the_rest_kept(void **state)
{
    (void)state;
    struct fw_notes notes = {0};
    bool torn;
    struct fw_log_lines days = read_lines("2027-05-18; left 8cm\n"
                                          "rain all day\n"
                                          "2027-05-18; left 7cm\n"
                                          "2027-05-25; correct; left 7cm\n"
                                          "2027-05-30; undo\n"
                                          "2027-05-19; left 9cm\n"
                                          "2027-05-20; lef",
                                          &notes, &torn);
    static const char *const where[] = {"log:2", "log:3", "log:4", "log:5",
                                        "log"};
    static const char *const said[] = {
        "\"rain all day\" is not a date", "2027-05-18 is in line 1 already",
        "no line before says that day", "which is not the one before it",
        "line 7 has no end and is not counted: \"2027-05-20; lef\""};
    assert_int_equal(notes.count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_string_equal(notes.items[i].where, where[i]);
        if (!strstr(notes.items[i].text, said[i]))
            fail_msg("%s", notes.items[i].text);
    }
    assert_true(torn);
    assert_int_equal(days.count, 2);
    fw_log_lines_release(&days);
    fw_notes_release(&notes);
}

/* ---- a table of days ---- */

static void a_table_is_read_with_commas_or_semicolons(void **state)
{
    (void)state;
    static const char *const tables[] = {
        "date,left,fence,note,missed\r\n2027-05-18,8 cm,\"14,11\",\"a, "
        "\"\"b\"\""
        "\",\r\n,,,,x\r\n",
        "\xEF\xBB\xBF"
        "date;left;fence;note;missed\n2027-05-18;8 cm;14,11;a, \"\"\"b\"\"\"\n"
        "\n;;;;yes",
    };
    struct scratch scratch;
    scratch_make(&scratch);
    for (int i = 0; i < 2; i++) {
        struct fw_log_lines lines;
        struct fw_error err;
        const char *path = in_scratch(&scratch, "week.csv");
        put_text(path, tables[i]);
        if (fw_log_csv_read(path, FW_METRIC, &lines, &err))
            fail_msg("%s", err.text);
        assert_int_equal(lines.count, 2);
        assert_near(lines.items[0].values[FW_LOG_FENCE].other, 11, 0);
        assert_string_equal(lines.items[0].values[FW_LOG_NOTE].text,
                            "a, \"b\"");
        assert_int_equal(lines.items[1].day, FW_NO_DAY);
        assert_true(lines.items[1].values[FW_LOG_MISSED].told);
        fw_log_lines_release(&lines);
    }
    scratch_remove(scratch.path);
}

static void a_wrong_cell_is_named_by_its_row(void **state)
{
    (void)state;
    static const char *const tables[][2] = {
        {"date,left\n2027-05-18,8cm\n2027-05-19,8\n", "week.csv:3: left: "},
        {"date,height\n2027-05-18,8cm\n", "column \"height\" is no part"},
        {"date,fence\n2027-05-18,14,11\n", "week.csv:2: more cells"},
        {"date,left\n", "there is no day in it"},
        {"", "column \"\""},
    };
    struct scratch scratch;
    scratch_make(&scratch);
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        struct fw_log_lines lines;
        struct fw_error err = {FW_OK, ""};
        const char *path = in_scratch(&scratch, "week.csv");
        put_text(path, tables[i][0]);
        assert_int_equal(fw_log_csv_read(path, FW_METRIC, &lines, &err),
                         FW_EINPUT);
        if (!strstr(err.text, tables[i][1]))
            fail_msg("%s", err.text);
    }
    scratch_remove(scratch.path);
}

/* ---- beside the plan ---- */

static struct fw_log *opened(const char *path, size_t *note_count)
{
    struct fw_notes notes = {0};
    struct fw_error err;
    struct fw_log *log;
    const struct fw_log_request request = {.path = path, .writer = true};
    if (fw_log_open(plan, &request, &log, &notes, &err))
        fail_msg("%s", err.text);
    if (note_count)
        *note_count = notes.count;
    fw_notes_release(&notes);
    return log;
}

static enum fw_status say(struct fw_log *log, const char *parts,
                          struct fw_error *err)
{
    char text[256];
    struct fw_log_line line;
    snprintf(text, sizeof text, "2000-01-01%s%s", parts[0] ? "; " : "", parts);
    if (fw_log_line_read(quantities, text, strlen(text), FW_METRIC, &line, err))
        fail_msg("%s: %s", parts, err->text);
    line.day = FW_NO_DAY;
    return fw_log_say(log, &line, err);
}

static void says(struct fw_log *log, const char *parts)
{
    struct fw_error err;
    if (say(log, parts, &err))
        fail_msg("%s: %s", parts, err.text);
}

static void refuses(struct fw_log *log, const char *parts, const char *words)
{
    struct fw_error err = {FW_OK, ""};
    const int next = log->next_day;
    assert_int_equal(say(log, parts, &err), FW_EINPUT);
    if (!strstr(err.text, words))
        fail_msg("%s: said \"%s\"; expected \"%s\"", parts, err.text, words);
    assert_int_equal(log->next_day, next);
}

/* Timothy at 19 cm, 7 to stay, four fifths of the rest: 9.4 cm are left. */
static void eaten_to_what_is_meant_corrects_nothing(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    struct fw_log *log = opened(in_scratch(&scratch, "a"), NULL);
    says(log, "");
    for (int i = 0; i < 3; i++) {
        says(log, "left 9.4 cm; bellies full");
        const struct fw_log_day *day = &log->days[log->day_count - 1];
        assert_true(day->looked);
        assert_near(day->stood_kg_ha / day->offer.stands_kg_ha, 1, 1e-3);
        assert_near(day->guess.share, 1, 1e-3);
        assert_near(log->next.size, 1, 1e-12);
    }
    fw_log_free(log);
    scratch_remove(scratch.path);
}

static void what_does_not_fit_is_refused_and_nothing_changes(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    const char *path = in_scratch(&scratch, "a");
    struct fw_log *log = opened(path, NULL);
    refuses(log, "left 8cm", "they come from outside");
    says(log, "");
    refuses(log, "left 30cm", "30 cm are more than stood in A01");
    refuses(log, "fence 0,11", "lies beyond the block or the field");
    refuses(log, "fence 300,300", "lies on ground that is grazed");
    refuses(log, "open-v 5kV@A03-05",
            "there is no fence A03-05; did you mean "
            "A03-04?");
    refuses(log, "head 0", "head: 0; expected 1 or more");
    refuses(log, "missed; left 8cm", "nobody came");
    struct fw_log_line line = {.day = plan->start_day - 1};
    struct fw_error err;
    assert_int_equal(fw_log_say(log, &line, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "is before the plan's first day"));
    line.day = plan->start_day;
    assert_int_equal(fw_log_say(log, &line, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "is written down already"));
    line.day = plan->end_day + 30;
    assert_int_equal(fw_log_say(log, &line, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "is after the plan's last move"));
    line.day = plan->start_day + 5;
    line.kind = FW_LOG_CORRECT;
    assert_int_equal(fw_log_say(log, &line, &err), FW_EINPUT);
    assert_non_null(strstr(err.text, "nothing to correct"));
    assert_int_equal(log->day_count, 1);
    fw_log_free(log);
    scratch_remove(scratch.path);
}

/* No move on the Sunday of this farm: they are two days in a paddock. */
static void a_day_without_a_move_leaves_nothing(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    struct fw_log *log = opened(in_scratch(&scratch, "a"), NULL);
    struct fw_log_line saturday = {.day = plan->start_day + 5};
    assert_int_equal(fw_date_weekday(saturday.day), 5);
    assert_int_equal(fw_log_say(log, &saturday, NULL), FW_OK);
    refuses(log, "left 8cm", "no move is due that day");
    refuses(log, "missed", "no move was due that day");
    says(log, "head 60");
    says(log, "left 9.4cm");
    const struct fw_log_day *day = &log->days[log->day_count - 1];
    assert_int_equal(day->day - day->entered, 2);
    /* 60 of 61 for the second night is not told by night: all of it. */
    assert_near(day->look.eaten, 60.0 / 61, 1e-12);
    fw_log_free(log);
    scratch_remove(scratch.path);
}

/* Two nights where one was meant: twice was eaten, the next moves are a day
 * late in their order, and below the stop height is told. */
static void a_missed_day_counts_what_was_taken(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    struct fw_log *log = opened(in_scratch(&scratch, "a"), NULL);
    says(log, "");
    says(log, "missed");
    assert_int_equal(log->late_days, 1);
    assert_int_equal(log->next_move, 1);
    says(log, "left 5cm");
    const struct fw_log_day *day = &log->days[2];
    assert_int_equal(day->move, 1);
    assert_string_equal(plan->paddocks[day->paddock].id, "A01");
    assert_near(day->look.eaten, 2, 1e-12);
    assert_true(day->too_low);
    /* 5 cm and twice 9.6 are over the 19 that stood by the plan. */
    assert_near(day->stood_kg_ha / day->offer.stands_kg_ha, (5 + 2 * 9.6) / 19,
                1e-6);
    assert_near(log->next.size, 1, 0.3);
    fw_log_free(log);
    scratch_remove(scratch.path);
}

/* The paddock is larger by what the paces say, and held as much less on each
 * hectare when it was eaten alike. */
static void a_fence_set_further_on_makes_its_paddock_larger(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    struct fw_log *log = opened(in_scratch(&scratch, "a"), NULL);
    double share = 0;
    size_t move = 1;
    while (fw_log_fence(plan, move, &share) == FW_NONE)
        move++;
    const size_t fence = fw_log_fence(plan, move, &share);
    const struct fw_log_paces a = fw_log_paces(plan, fence, true);
    const struct fw_log_paces b = fw_log_paces(plan, fence, false);
    int anew[2];
    assert_true(fw_log_paces_anew(plan, fence, 5, anew));
    assert_int_equal(anew[0] - a.paces, 5 * a.way);
    assert_int_equal(anew[1] - b.paces, 5 * b.way);
    char parts[64];
    snprintf(parts, sizeof parts, "fence %d,%d", anew[0], anew[1]);
    struct fw_log_line line;
    char text[128];
    snprintf(text, sizeof text, "2000-01-01; %s", parts);
    assert_int_equal(fw_log_line_read(quantities, text, strlen(text), FW_METRIC,
                                      &line, NULL),
                     FW_OK);
    line.day = plan->time.moves[move].day;
    assert_int_equal(fw_log_say(log, &line, NULL), FW_OK);
    const struct fw_log_day *day = &log->days[log->day_count - 1];
    assert_near(day->size, 1 + 5 * share, 1e-12);
    const struct fw_plan_fence *of = &plan->fences[fence];
    /* A pace on along both sides is so much ground of it, nearly. */
    assert_near(share,
                of->length_m * plan->pace_m /
                    (plan->paddocks[of->from].area_ha * 1e4),
                0.02 * share);
    fw_log_free(log);
    scratch_remove(scratch.path);
}

/* ---- what is kept ---- */

static void states_equal(const struct fw_log *one, const struct fw_log *other)
{
    assert_int_equal(one->day_count, other->day_count);
    assert_int_equal(one->next_move, other->next_move);
    assert_memory_equal(&one->next.size, &other->next.size, sizeof(double));
    for (size_t i = 0; i < one->day_count; i++) {
        const struct fw_log_day *a = &one->days[i], *b = &other->days[i];
        assert_int_equal(a->move, b->move);
        assert_memory_equal(&a->size, &b->size, sizeof(double));
        assert_memory_equal(&a->stood_kg_ha, &b->stood_kg_ha, sizeof(double));
        assert_memory_equal(&a->guess, &b->guess, sizeof a->guess);
    }
}

/* Opened anew the log comes to the same, to the last bit, as it did when each
 * line was said. */
static void the_log_replayed_is_what_it_was(void **state)
{
    (void)state;
    static const char *const parts[] = {
        "",          "left 8cm; minutes 20", "left 7cm; weather wet", "missed",
        "left long", "bellies hollow",       "left 11 cm; head 58",   "",
    };
    struct scratch scratch;
    scratch_make(&scratch);
    const char *path = in_scratch(&scratch, "log");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        struct fw_log *log = opened(path, NULL);
        struct fw_error err;
        if (say(log, parts[i], &err))
            says(log, ""); /* a Sunday: nothing is left */
        assert_int_equal(fw_log_keep(log, NULL), FW_OK);
        fw_added_close(log->file);
        log->file = NULL;
        struct fw_log *again = opened(path, NULL);
        states_equal(log, again);
        fw_log_free(again);
        fw_log_free(log);
    }
    scratch_remove(scratch.path);
}

static void
undo_takes_the_last_line_back_and_nothing_is_overwritten(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    const char *path = in_scratch(&scratch, "log");
    char *before = NULL, *after = NULL;
    size_t length, count;
    int day;
    struct fw_log *log = opened(path, NULL);
    says(log, "");
    says(log, "left 8cm");
    assert_int_equal(fw_log_keep(log, NULL), FW_OK);
    fw_log_free(log);
    assert_int_equal(fw_file_get(path, 1 << 20, &before, &length, NULL), FW_OK);
    log = opened(path, NULL);
    assert_int_equal(fw_log_undo(log, &day, NULL), FW_OK);
    assert_int_equal(day, plan->start_day + 1);
    assert_int_equal(fw_log_keep(log, NULL), FW_OK);
    fw_log_free(log);
    size_t notes;
    log = opened(path, &notes);
    assert_int_equal(notes, 0);
    assert_int_equal(log->next_day, plan->start_day + 1);
    fw_log_free(log);
    assert_int_equal(fw_file_get(path, 1 << 20, &after, &count, NULL), FW_OK);
    assert_true(count > length);
    assert_memory_equal(before, after, length);
    fw_bytes_free(before);
    fw_bytes_free(after);
    scratch_remove(scratch.path);
}

/* What was torn off stays in the file, marked, and the day can be said. */
static void a_torn_end_is_put_aside(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    const char *path = in_scratch(&scratch, "log");
    size_t notes;
    put_text(path, "2027-05-17\n2027-05-18; left 8c");
    struct fw_log *log = opened(path, &notes);
    assert_int_equal(notes, 1);
    says(log, "left 8cm");
    assert_int_equal(fw_log_keep(log, NULL), FW_OK);
    fw_log_free(log);
    log = opened(path, &notes);
    assert_int_equal(notes, 0);
    assert_int_equal(log->by_day.count, 2);
    fw_log_free(log);
    char *bytes = NULL;
    size_t count;
    assert_int_equal(fw_file_get(path, 1 << 20, &bytes, &count, NULL), FW_OK);
    assert_string_equal(bytes, "2027-05-17\n2027-05-18; left 8c # torn\n"
                               "2027-05-18; of A01; left 8cm\n");
    fw_bytes_free(bytes);
    scratch_remove(scratch.path);
}

/* The farm has changed under the log: what no longer fits is told by its line
 * and lost by nobody. */
static void what_no_longer_fits_is_told_and_kept(void **state)
{
    (void)state;
    struct scratch scratch;
    scratch_make(&scratch);
    const char *path = in_scratch(&scratch, "log");
    size_t notes;
    put_text(path, "2026-05-17; left 8cm\n2027-05-17\n"
                   "2027-05-18; of B07; left 4cm\n"
                   "2027-05-19; of A02; left 9.4cm; open-v 5kV@Z1\n");
    struct fw_log *log = opened(path, &notes);
    assert_int_equal(notes, 3);
    assert_false(log->days[1].looked);
    assert_true(log->days[2].looked);
    fw_log_free(log);
    scratch_remove(scratch.path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_comes_back_as_it_was_written),
        cmocka_unit_test(a_note_ends_with_a_letter),
        cmocka_unit_test(ground_ends_with_a_letter),
        cmocka_unit_test(a_part_is_read_as_its_row_says),
        cmocka_unit_test(what_is_no_part_is_told_with_what_works),
        cmocka_unit_test(lines_come_to_days_corrected_and_taken_back),
        cmocka_unit_test(nonsense_is_named_and_the_rest_kept),
        cmocka_unit_test(a_table_is_read_with_commas_or_semicolons),
        cmocka_unit_test(a_wrong_cell_is_named_by_its_row),
        cmocka_unit_test(eaten_to_what_is_meant_corrects_nothing),
        cmocka_unit_test(what_does_not_fit_is_refused_and_nothing_changes),
        cmocka_unit_test(a_day_without_a_move_leaves_nothing),
        cmocka_unit_test(a_missed_day_counts_what_was_taken),
        cmocka_unit_test(a_fence_set_further_on_makes_its_paddock_larger),
        cmocka_unit_test(the_log_replayed_is_what_it_was),
        cmocka_unit_test(
            undo_takes_the_last_line_back_and_nothing_is_overwritten),
        cmocka_unit_test(a_torn_end_is_put_aside),
        cmocka_unit_test(what_no_longer_fits_is_told_and_kept),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
