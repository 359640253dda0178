/* A time on ground drawn by hand, and what it says, as words to compare. */
#ifndef FW_MOVES_BY_HAND_H
#define FW_MOVES_BY_HAND_H

#include "land_by_hand.h"
#include "moves/moves.h"

enum { most_stays = 40, words_room = 1024 };

struct made {
    struct fw_land land;
    struct fw_time time;
    struct fw_habits habits;
    const struct fw_time_start *start;
    struct fw_time_sums sums;
    char words[words_room];
};

/* Water goes with them; nothing is young and nothing drifts. */
static inline struct fw_habits hand_habits(bool back_fence, bool set_first)
{
    return (struct fw_habits){
        .back_fence = back_fence,
        .set_first = set_first,
        .trough = true,
        .strands = 2,
        .opening_m = 4,
        .way_m = 3,
        .room_m = 3,
        .young_from = FW_NO_DAY,
        .young_to = FW_NO_DAY,
        .drift_from = FW_NO_DAY,
        .drift_to = FW_NO_DAY,
        .walk_m_min = 60,
        .end_min = 1,
    };
}

static inline void make_start(struct made *made, struct hand *fields,
                              size_t field_count, const size_t *cells,
                              size_t count, struct fw_habits habits,
                              const struct fw_time_start *start)
{
    struct fw_time_stay stays[most_stays];
    struct fw_error err = {0};
    for (size_t k = 0; k < count; k++)
        stays[k] = (struct fw_time_stay){.cell = cells[k],
                                         .enter = (int)k,
                                         .leave = (int)k + 1,
                                         .left_kg = (double)NAN};
    *made = (struct made){.habits = habits, .start = start};
    hand_land(fields, field_count, &made->land);
    if (fw_time_make(&made->land, stays, count, &made->habits, start,
                     &made->time, &err) ||
        fw_time_judge(&made->land, &made->time, &made->habits, start,
                      &made->sums, &err))
        fail_msg("%s", err.text);
}

/* A day in each of these cells, from day 0 on. */
static inline void make(struct made *made, struct hand hand,
                        const size_t *cells, size_t count,
                        struct fw_habits habits)
{
    make_start(made, &hand, 1, cells, count, habits, NULL);
}

static inline void unmake(struct made *made)
{
    fw_time_release(&made->time);
    fw_land_release(&made->land);
}

/* ---- words ---- */

static inline void add_number(char *words, size_t number)
{
    const size_t used = strlen(words);
    snprintf(words + used, words_room - used, " %zu", number);
}

static inline void add_word(char *words, const char *word)
{
    const size_t used = strlen(words);
    snprintf(words + used, words_room - used, "%s%s", used ? "; " : "", word);
}

static inline void add_list(struct made *made, struct fw_list list)
{
    for (size_t i = 0; i < list.count; i++)
        add_number(made->words, made->time.items[list.first + i]);
}

static inline void add_opening(struct made *made, size_t opening)
{
    const struct fw_opening *of = &made->time.openings[opening];
    const size_t used = strlen(made->words);
    if (of->line == FW_NONE)
        snprintf(made->words + used, words_room - used, " gate");
    add_number(made->words, of->line == FW_NONE ? of->field : of->line);
}

/* The steps of a move: "set 0; hook 0; open gate 0; count; close gate 0". */
static inline const char *steps_of(struct made *made, size_t move)
{
    static const char *const names[] = {"set",    "hook",  "read",     "carry",
                                        "open",   "walk",  "later",    "count",
                                        "bridge", "close", "take down"};
    made->words[0] = 0;
    const struct fw_list steps = made->time.moves[move].steps;
    for (size_t i = steps.first; i < steps.first + steps.count; i++) {
        const struct fw_step *step = &made->time.steps[i];
        add_word(made->words, names[step->kind]);
        add_list(made, step->lines);
        if (step->opening != FW_NONE)
            add_opening(made, step->opening);
        if (step->cells.count > 0)
            add_word(made->words, "over");
        add_list(made, step->cells);
        if (step->dead.count > 0)
            add_word(made->words, "dead");
        add_list(made, step->dead);
    }
    return made->words;
}

static inline void replay_to(const struct made *made, size_t move,
                             struct fw_replay *replay)
{
    assert_int_equal(
        fw_replay_begin(&made->land, &made->time, made->start, replay, NULL),
        FW_OK);
    assert_true(fw_replay_to_move(replay, move));
}

/* The lines that stand when that move is over. */
static inline const char *standing_after(struct made *made, size_t move)
{
    struct fw_replay replay;
    replay_to(made, move, &replay);
    made->words[0] = 0;
    for (size_t l = 0; l < made->land.line_count; l++)
        if (replay.stands[l] && made->land.lines[l].role != FW_LAND_EDGE)
            add_number(made->words, l);
    fw_replay_end(&replay);
    return made->words[0] ? made->words + 1 : made->words;
}

/* The cells that the flock has when that move is over, in their order. */
static inline const char *ground_after(struct made *made, size_t move)
{
    struct fw_replay replay;
    size_t count;
    replay_to(made, move, &replay);
    made->words[0] = 0;
    fw_replay_ground(&replay, &count);
    for (size_t c = 0; c < made->land.cell_count; c++)
        if (replay.ground[c])
            add_number(made->words, c);
    fw_replay_end(&replay);
    return made->words[0] ? made->words + 1 : made->words;
}

/* When a line stands: "0-2 5-7", up in one move and down in the other. */
static inline const char *standings_of(struct made *made, size_t line)
{
    made->words[0] = 0;
    for (size_t i = 0; i < made->time.standing_count; i++) {
        const struct fw_standing *of = &made->time.standings[i];
        const size_t used = strlen(made->words);
        if (of->line == line)
            snprintf(made->words + used, words_room - used, "%s%d-%d",
                     used ? " " : "", (int)of->up.move, (int)of->down.move);
    }
    return made->words;
}

static inline void assert_enclosed(const struct made *made)
{
    assert_int_equal(made->sums.faults[FW_TIME_LOOSE], 0);
    assert_int_equal(made->sums.faults[FW_TIME_UNTIED], 0);
}

/* From block to block where the last strip of one meets the first of the
 * other. */
static const size_t there_and_back[] = {0, 1, 2, 3, 7, 6, 5, 4};

#endif
