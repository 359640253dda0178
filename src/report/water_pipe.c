/* One pipe: what it loses, what is left for the trough's valve, what each bore
 * that is sold would do, and what would help. */
#include "report/report.h"

#include "figures/water.h"
#include "water/pipe.h"

#include <math.h>

static const char sum_words[] =
    "This checked a sum for a straight new pipe, not the pipe: bends, fittings "
    "and a filter cost more, and a closed valve puts all of the pressure on "
    "it. Let no water run back from a trough into what people drink, lay it "
    "where frost, stock and wheels do not reach it, and keep to the makers' "
    "instructions, local codes and licensed practice.";

static const char *pressure(double head_m, enum fw_units units,
                            char text[FW_WORDS])
{
    return fw_say_pressure(fw_water_kpa(head_m), units, text);
}

/* A bore reads in millimetres or inches. */
static const char *bore(double m, enum fw_units units, char text[FW_WORDS])
{
    const double mm_m = 1000, mm_in = 25.4;
    char number[FW_WORDS];
    const double mm = m * mm_m;
    fw_say_number(units == FW_US ? mm / mm_in : mm, number);
    fw_text_format(text, FW_WORDS, "%s %s", number,
                   units == FW_US ? "in" : "mm");
    return text;
}

/* ---- the bores side by side ---- */

/* Without a head the speed alone is judged. */
static const char *verdict(const struct fw_pipe_run *run)
{
    if (!run->slow)
        return "too fast";
    if (isnan(run->left_m))
        return "slow enough";
    return run->enough ? "enough" : "too little";
}

static void row(struct fw_text *text, const struct fw_pipe *pipe,
                const char *name, enum fw_units units)
{
    char inside[FW_WORDS], loss[FW_WORDS], speed[FW_WORDS], words[FW_WORDS];
    struct fw_pipe_run run;
    if (fw_water_pipe(pipe, &run, NULL))
        return;
    fw_text_addf(text, "%-10s%-10s%-11s%-11s", name,
                 bore(pipe->bore_m, units, inside),
                 pressure(run.head_loss_m, units, loss),
                 fw_say_speed(run.velocity_m_s, units, speed));
    if (!isnan(run.left_m)) {
        fw_text_addf(text, "%-12s",
                     run.left_m > 0 ? pressure(run.left_m, units, words)
                                    : "none");
        fw_text_addf(text, "%-14s", fw_say_flow(run.most_l_min, units, words));
    }
    fw_text_addf(text, "%s\n", verdict(&run));
}

static void table(struct fw_text *text, const struct fw_pipe *pipe,
                  enum fw_units units)
{
    const double same_m = 1e-6;
    bool sold = false;
    for (size_t i = 0; i < fw_water_pipe_sizes(); i++)
        sold |= fabs(fw_water_pipe_size(i).bore_m - pipe->bore_m) < same_m;
    fw_text_add(text, "pipe      inside    loss       speed");
    fw_text_add(text,
                isnan(pipe->head_m) ? "\n" : "      at valve    at most\n");
    if (!sold)
        row(text, pipe, "this one", units);
    for (size_t i = 0; i < fw_water_pipe_sizes(); i++) {
        const struct fw_pipe_size size = fw_water_pipe_size(i);
        struct fw_pipe other = *pipe;
        other.bore_m = size.bore_m;
        row(text, &other, size.name, units);
    }
}

/* ---- what it comes to ---- */

static struct fw_pipe_run run_of(const struct fw_pipe *pipe, double bore_m)
{
    struct fw_pipe other = *pipe;
    struct fw_pipe_run run = {0};
    other.bore_m = bore_m;
    fw_water_pipe(&other, &run, NULL);
    return run;
}

static void say_this(struct fw_text *words, const struct fw_pipe *pipe,
                     const struct fw_pipe_run *run, enum fw_units units)
{
    char a[FW_WORDS], b[FW_WORDS], c[FW_WORDS], d[FW_WORDS], e[FW_WORDS];
    fw_text_addf(words,
                 "%s of pipe, %s inside, C %g: at %s it loses %s of head "
                 "(%s)",
                 fw_report_length(pipe->length_m, units, a),
                 bore(pipe->bore_m, units, b), pipe->c,
                 fw_say_flow(pipe->flow_l_min, units, c),
                 fw_report_length(run->head_loss_m, units, d),
                 pressure(run->head_loss_m, units, e));
    fw_text_addf(words, " and runs at %s.",
                 fw_say_speed(run->velocity_m_s, units, a));
    if (!run->slow)
        fw_text_addf(words,
                     " That is faster than %s (common practice), where it "
                     "hammers when the valve shuts.",
                     fw_say_speed(FW_PIPE_FASTEST_M_S, units, b));
    if (isnan(run->left_m))
        fw_text_addf(
            words,
            " For the %s that the valve wants, the source stands %s "
            "higher than the trough, or has %s there.",
            pressure(pipe->valve_m, units, c),
            fw_report_length(run->head_loss_m + pipe->valve_m, units, d),
            pressure(run->head_loss_m + pipe->valve_m, units, e));
    else if (run->left_m >= pipe->valve_m)
        fw_text_addf(
            words, " The valve wants %s and has %s. At most it brings %s.",
            pressure(pipe->valve_m, units, c), pressure(run->left_m, units, d),
            fw_say_flow(run->most_l_min, units, e));
    else if (run->most_l_min > 0)
        fw_text_addf(words,
                     " It cannot bring that: with the %s that the valve wants, "
                     "%s at most.",
                     pressure(pipe->valve_m, units, c),
                     fw_say_flow(run->most_l_min, units, d));
}

/* No pipe lifts water higher than its source. */
static void say_too_low(struct fw_text *words, const struct fw_pipe *pipe,
                        enum fw_units units)
{
    char a[FW_WORDS], b[FW_WORDS], c[FW_WORDS], d[FW_WORDS];
    const double more_m =
        pipe->valve_m - pipe->head_m +
        run_of(pipe, fw_water_pipe_size(fw_water_pipe_sizes() - 1).bore_m)
            .head_loss_m;
    fw_text_addf(words,
                 "No pipe fills this trough: while nothing flows there is %s "
                 "at its valve, which wants %s. It takes a source %s higher, "
                 "or a pump with %s more.",
                 pipe->head_m > 0 ? pressure(pipe->head_m, units, a) : "none",
                 pressure(pipe->valve_m, units, b),
                 fw_report_length(more_m, units, c),
                 pressure(more_m, units, d));
}

static void say_next(struct fw_text *words, const struct fw_pipe *pipe,
                     size_t least, enum fw_units units)
{
    char a[FW_WORDS], b[FW_WORDS], c[FW_WORDS];
    const struct fw_pipe_size size = fw_water_pipe_size(least);
    const struct fw_pipe_run run = run_of(pipe, size.bore_m);
    const bool known = !isnan(pipe->head_m);
    fw_text_addf(words, "%s %s pipe, %s inside.",
                 known ? "Enough is" : "No faster than it should run is",
                 size.name, bore(size.bore_m, units, a));
    if (!known)
        fw_text_add(words, " Which is enough hangs on how much higher the "
                           "source stands, or its pressure: --fall, --rise, "
                           "--pressure tell it.");
    if (least + 1 == fw_water_pipe_sizes())
        return;
    const struct fw_pipe_size next = fw_water_pipe_size(least + 1);
    const struct fw_pipe_run wider = run_of(pipe, next.bore_m);
    fw_text_addf(words, " The next one up, %s, loses %s less", next.name,
                 pressure(run.head_loss_m - wider.head_loss_m, units, b));
    if (isnan(wider.most_l_min))
        fw_text_add(words, ".");
    else
        fw_text_addf(words, " and brings up to %s.",
                     fw_say_flow(wider.most_l_min, units, c));
}

static void say_which(struct fw_text *words, const struct fw_pipe *pipe,
                      enum fw_units units)
{
    const size_t count = fw_water_pipe_sizes();
    const size_t least = fw_water_pipe_least(pipe);
    char most[FW_WORDS];
    if (!isnan(pipe->head_m) && pipe->head_m <= pipe->valve_m) {
        say_too_low(words, pipe, units);
    } else if (least < count) {
        say_next(words, pipe, least, units);
    } else {
        const struct fw_pipe_size last = fw_water_pipe_size(count - 1);
        const struct fw_pipe_run run = run_of(pipe, last.bore_m);
        fw_text_addf(words, "None of these pipes is enough, not even %s",
                     last.name);
        if (run.slow && run.most_l_min > 0)
            fw_text_addf(words, ", which brings %s at most",
                         fw_say_flow(run.most_l_min, units, most));
        fw_text_add(words, ". Let less flow at a time into a larger trough, "
                           "lay two pipes, or raise the source's pressure.");
    }
}

enum fw_status fw_report_water_pipe(const struct fw_pipe *pipe,
                                    enum fw_units units, char **out,
                                    struct fw_error *err)
{
    struct fw_text text = {0}, words = {0};
    struct fw_pipe_run run;
    char shut[FW_WORDS];
    const enum fw_status status = fw_water_pipe(pipe, &run, err);
    if (status)
        return status;
    fw_report_first(&text);
    say_this(&words, pipe, &run, units);
    fw_report__fold_text(&text, 0, &words);
    fw_text_add(&text, "\n");
    table(&text, pipe, units);
    fw_text_add(&text, "\n");
    say_which(&words, pipe, units);
    if (!isnan(pipe->head_m) && pipe->head_m > 0)
        fw_text_addf(&words, " While the valve is shut the pipe bears %s.",
                     pressure(pipe->head_m, units, shut));
    fw_report__fold_text(&text, 0, &words);
    fw_report_fold(&text, 0, sum_words);
    return fw_report_give(&text, out, NULL, err);
}

/* ---- for machines ---- */

static void number(struct fw_text *text, const char *name, double value)
{
    fw_text_addf(text, "\"%s\": ", name);
    fw_text_add_number(text, value);
    fw_text_add(text, ", ");
}

static void add_run(struct fw_text *text, const struct fw_pipe *pipe,
                    double bore_m)
{
    const struct fw_pipe_run run = run_of(pipe, bore_m);
    number(text, "bore_m", bore_m);
    number(text, "head_loss_m", run.head_loss_m);
    number(text, "velocity_m_s", run.velocity_m_s);
    number(text, "valve_has_kpa", fw_water_kpa(run.left_m));
    number(text, "most_l_min", run.most_l_min);
    fw_text_addf(text, "\"enough\": %s",
                 run.slow && isnan(run.left_m) ? "null"
                 : run.enough                  ? "true"
                                               : "false");
}

enum fw_status fw_report_water_pipe_json(const struct fw_pipe *pipe, char **out,
                                         struct fw_error *err)
{
    struct fw_text text = {0};
    struct fw_pipe_run run;
    const enum fw_status status = fw_water_pipe(pipe, &run, err);
    if (status)
        return status;
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n  ");
    number(&text, "length_m", pipe->length_m);
    number(&text, "flow_l_min", pipe->flow_l_min);
    number(&text, "c", pipe->c);
    number(&text, "head_m", pipe->head_m);
    number(&text, "valve_wants_kpa", fw_water_kpa(pipe->valve_m));
    fw_text_add(&text, "\n  ");
    add_run(&text, pipe, pipe->bore_m);
    fw_text_add(&text, ",\n  \"sizes\": [");
    for (size_t i = 0; i < fw_water_pipe_sizes(); i++) {
        const struct fw_pipe_size size = fw_water_pipe_size(i);
        fw_text_addf(&text, "%s\n    {\"name\": ", i ? "," : "");
        fw_text_add_json(&text, size.name);
        fw_text_add(&text, ", ");
        add_run(&text, pipe, size.bore_m);
        fw_text_add(&text, "}");
    }
    fw_text_add(&text, "\n  ],\n  \"note\": ");
    fw_text_add_json(&text, sum_words);
    fw_text_add(&text, "\n}\n");
    return fw_report_give(&text, out, NULL, err);
}
