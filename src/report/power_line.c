/* The volts along one run of fence: two readings at each end, what is wanted,
 * and where the volts went when something is short of it. */
#include "report/report.h"

const char fw_report_sum_words[] =
    "This checked a sum, not the fence: put a tester on it, and follow the "
    "maker's instructions and local codes.";

static const char *verdict(double volts, double wanted_v)
{
    return volts >= wanted_v ? "enough" : "too little";
}

/* What is short of two figures never reads like them. */
static const char *kilovolts(double volts, char text[FW_WORDS])
{
    return fw_report_number(fw_say_round(volts / 1000, 2, FW_DOWN), text);
}

static void reading(struct fw_text *text, const char *where,
                    const struct fw_circuit_volts *volts,
                    const struct fw_power_wanted *wanted)
{
    char open[FW_WORDS], touched[FW_WORDS];
    fw_text_addf(text, "%-18s%-5s kV  %-14s%-5s kV  %s\n", where,
                 kilovolts(volts->open_v, open),
                 verdict(volts->open_v, wanted->open_v),
                 kilovolts(volts->touched_v, touched),
                 verdict(volts->touched_v, wanted->touched_v));
}

static bool meets(const struct fw_power_wanted *wanted,
                  const struct fw_circuit_volts *volts)
{
    return fw_power_meets(wanted, volts->open_v, volts->touched_v);
}

/* What to try first. Short at the energizer: its load, its earth or itself.
 * Short at the far end alone: what lies between, which is grass when a tester
 * shows it and wire when only a touch does. */
static const char *advice(const struct fw_circuit_run_volts *volts,
                          const struct fw_power_wanted *wanted)
{
    if (meets(wanted, &volts->near) && meets(wanted, &volts->far))
        return "Both ends have what is wanted.";
    if (!meets(wanted, &volts->near))
        return "It is short at the energizer already: clear the grass from "
               "the wire, add earth rods, or take a stronger energizer.";
    if (volts->far.open_v < wanted->open_v)
        return "The volts are lost on the way: clear the grass from the wire, "
               "or take wire that resists less.";
    return "A tester shows enough at the far end, and yet a sheep gets too "
           "little there: the wire resists too much. Take wire that resists "
           "less, join the strands at both ends, or make the run shorter.";
}

enum fw_status fw_report_power_line(const struct fw_circuit_run *run,
                                    const struct fw_circuit_run_volts *volts,
                                    const struct fw_power_wanted *wanted,
                                    char **out, struct fw_error *err)
{
    struct fw_text text = {0}, words = {0};
    char run_m[FW_WORDS], open[FW_WORDS], touched[FW_WORDS];
    fw_report_first(&text);
    fw_text_addf(&text, "%-18s%-24s%s\n", "", "on a tester",
                 "while a sheep touches it");
    reading(&text, "at the energizer", &volts->near, wanted);
    reading(&text, "at the far end", &volts->far, wanted);
    fw_text_addf(
        &words,
        "\nWanted on this run of %s: %s kV on a tester, %s kV touched (%s).",
        fw_report_length(run->length_m, FW_METRIC, run_m),
        fw_report_number(wanted->open_v / 1000, open),
        fw_report_number(wanted->touched_v / 1000, touched), wanted->source);
    fw_report__fold_text(&text, 0, &words);
    fw_report_fold(&text, 0, advice(volts, wanted));
    fw_report_fold(&text, 0, fw_report_sum_words);
    return fw_report_give(&text, out, NULL, err);
}

static void number(struct fw_text *text, const char *name, double value)
{
    fw_text_addf(text, "  \"%s\": ", name);
    fw_text_add_number(text, value);
    fw_text_add(text, ",\n");
}

static void string(struct fw_text *text, const char *name, const char *value,
                   const char *end)
{
    fw_text_addf(text, "  \"%s\": ", name);
    fw_text_add_json(text, value);
    fw_text_add(text, end);
}

enum fw_status fw_report_power_line_json(
    const struct fw_circuit_run *run, const struct fw_circuit_run_volts *volts,
    const struct fw_power_wanted *wanted, char **out, struct fw_error *err)
{
    struct fw_text text = {0};
    fw_text_add(&text, "{\n  ");
    fw_report_first_json(&text);
    fw_text_add(&text, ",\n");
    number(&text, "run_m", run->length_m);
    number(&text, "open_v", volts->far.open_v);
    number(&text, "touched_v", volts->far.touched_v);
    number(&text, "source_v", volts->near.open_v);
    number(&text, "source_touched_v", volts->near.touched_v);
    number(&text, "thevenin_ohm", volts->far.thevenin_ohm);
    number(&text, "load_ohm", volts->load_ohm);
    number(&text, "rods_v", volts->rods_v);
    number(&text, "wanted_open_v", wanted->open_v);
    number(&text, "wanted_touched_v", wanted->touched_v);
    string(&text, "wanted_source", wanted->source, ",\n");
    const bool both = meets(wanted, &volts->near) && meets(wanted, &volts->far);
    fw_text_addf(&text, "  \"meets\": %s,\n", both ? "true" : "false");
    string(&text, "advice", advice(volts, wanted), ",\n");
    string(&text, "note", fw_report_sum_words, "\n}\n");
    return fw_report_give(&text, out, NULL, err);
}
