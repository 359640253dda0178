/* What a tester reads from post to post, with a fault and without. */
#include "base/text.h"
#include "report/report.h"

#include "base/fail.h"

#include <stdio.h>
#include <string.h>

static const double kv = 1000;

/* "6.6 / 6.7": the strands from the bottom one up. */
static void readings(const double *volts, int strands, char *text, size_t room)
{
    size_t length = 0;
    text[0] = '\0';
    for (int i = 0; i < strands && length < room; i++)
        length += (size_t)fw_text_format(text + length, room - length, "%s%.1f",
                                         i ? " / " : "", volts[i] / kv);
}

static const char *post_of(const struct fw_plan_look *look, char text[FW_WORDS])
{
    if (look->post == 0)
        return "-";
    snprintf(text, FW_WORDS, "%zu", look->post);
    return text;
}

static void look_row(struct fw_text *text, const struct fw_plan *plan,
                     const struct fw_plan_look *look, bool marked)
{
    char sound[64], faulty[64], post[FW_WORDS], at[FW_WORDS];
    readings(look->sound_v, look->strands, sound, sizeof sound);
    readings(look->faulty_v, look->strands, faulty, sizeof faulty);
    fw_text_addf(text, "  %4s %9s   %-18s%s%s\n", post_of(look, post),
                 fw_report_length(look->at_m, plan->units, at), sound, faulty,
                 marked ? "   <" : "");
}

static void say_place(struct fw_text *words, const struct fw_plan *plan,
                      const struct fw_plan_look *look)
{
    char at[FW_WORDS];
    fw_report_length(look->at_m, plan->units, at);
    if (look->post)
        fw_text_addf(words, "post %zu (%s)", look->post, at);
    else
        fw_text_add(words, at);
}

static void verdict(struct fw_text *text, const struct fw_plan *plan,
                    const struct fw_plan_looks *looks, bool rain)
{
    struct fw_text words = {0};
    if (rain) {
        fw_text_add(&words, "Wet grass lowers every reading and points "
                            "nowhere: read again when it is dry.");
    } else if (looks->after == FW_NONE) {
        fw_text_add(&words, "A tester hardly shows this one. Unhook what is "
                            "fed from both ends and read again, line by "
                            "line.");
    } else {
        const struct fw_plan_look *after = &looks->items[looks->after];
        fw_text_addf(&words, "The readings change most on %s: look between ",
                     plan->fences[after->fence].id);
        say_place(&words, plan, after);
        fw_text_add(&words, " and ");
        say_place(&words, plan, &looks->items[looks->before]);
        fw_text_add(&words, " from its end A.");
    }
    fw_text_add(text, "\n");
    fw_report__fold_text(text, 0, &words);
}

enum fw_status fw_report_looks(const struct fw_plan *plan, int day,
                               const char *fault,
                               const struct fw_plan_looks *looks, char **out,
                               struct fw_error *err)
{
    struct fw_text text = {0};
    char date[FW_WORDS];
    size_t last = FW_NONE;
    fw_report_first(&text);
    fw_text_addf(&text,
                 "%s, %s:\nwhat a tester reads, in kV, strands from the bottom "
                 "up\n\n  post from A      as it should be   with the fault\n",
                 fw_report_day(day, true, date), fault);
    for (size_t i = 0; i < looks->count; i++) {
        const struct fw_plan_look *look = &looks->items[i];
        if (look->fence != last)
            fw_text_addf(&text, "%s\n", plan->fences[look->fence].id);
        last = look->fence;
        look_row(&text, plan, look, i == looks->after || i == looks->before);
    }
    verdict(&text, plan, looks, strcmp(fault, "rain") == 0);
    fw_text_add(&text, "\n");
    fw_report_fold(&text, 0,
                   "Switch the energizer off before you mend anything.");
    fw_report_fold(&text, 0, fw_report_sum_words);
    return fw_report_give(&text, out, NULL, err);
}

static void volts_json(struct fw_text *text, const char *name,
                       const double *volts, int strands)
{
    fw_text_addf(text, ", \"%s\": [", name);
    for (int i = 0; i < strands; i++) {
        fw_text_add(text, i ? ", " : "");
        fw_text_add_number(text, volts[i]);
    }
    fw_text_add(text, "]");
}

static void index_json(struct fw_text *text, const char *name, size_t index)
{
    if (index == FW_NONE)
        fw_text_addf(text, "  \"%s\": null,\n", name);
    else
        fw_text_addf(text, "  \"%s\": %zu,\n", name, index);
}

enum fw_status fw_report_looks_json(const struct fw_plan *plan, int day,
                                    const char *fault,
                                    const struct fw_plan_looks *looks,
                                    char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    char date[FW_DATE_TEXT];
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_addf(&text, ",\n  \"date\": \"%s\",\n  \"fault\": ",
                 fw_date_write(day, date));
    fw_text_add_json(&text, fault);
    fw_text_add(&text, ",\n  \"readings\": [\n");
    for (size_t i = 0; i < looks->count; i++) {
        const struct fw_plan_look *look = &looks->items[i];
        fw_text_add(&text, "    {\"fence\": ");
        fw_text_add_json(&text, plan->fences[look->fence].id);
        if (look->post)
            fw_text_addf(&text, ", \"post\": %zu, \"at_m\": ", look->post);
        else
            fw_text_add(&text, ", \"post\": null, \"at_m\": ");
        fw_text_add_number(&text, look->at_m);
        volts_json(&text, "sound_v", look->sound_v, look->strands);
        volts_json(&text, "faulty_v", look->faulty_v, look->strands);
        fw_text_add(&text, i + 1 < looks->count ? "},\n" : "}\n");
    }
    fw_text_add(&text, "  ],\n");
    index_json(&text, "after", looks->after);
    index_json(&text, "before", looks->before);
    fw_text_add(&text, "  \"note\": ");
    fw_text_add_json(&text, fw_report_sum_words);
    fw_text_add(&text, "\n}\n");
    return fw_report_give(&text, out, NULL, err);
}
