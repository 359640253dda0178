/* What the commands share: options, messages, reading what was named. */
#ifndef FW_CLI_CLI_H
#define FW_CLI_CLI_H

#include "farm/farm.h"
#include "keys/fault.h"
#include "keys/keys.h"
#include "log/log.h"
#include "make/make.h"
#include "report/reports.h"
#include "store/store.h"
#include <foldwright/foldwright.h>

#include <stdbool.h>

enum cli_flag {
    CLI_OUT = 1 << 0,       /* -o, --out */
    CLI_OUT_CRS = 1 << 1,   /* --out-crs */
    CLI_FORMAT = 1 << 2,    /* --format, with -o - */
    CLI_ON = 1 << 3,        /* --on DATE */
    CLI_PERIMETER = 1 << 4, /* --perimeter, --missing */
    CLI_FARM = 1 << 5,      /* every option that a key of the farm file has */
    CLI_LINE = 1 << 6,      /* one run of fence, without a map: CLI_RUN, ... */
    CLI_TESTER = 1 << 7,    /* --fault, --measured */
    CLI_ALL = 1 << 8,       /* --all */
    CLI_LEFT = 1 << 9,      /* --left */
    CLI_ONE_PIPE = 1 << 10, /* one pipe, without a map: CLI_PIPE, ... */
    CLI_POINTS = 1 << 11,   /* --points, --by */
    CLI_DAY = 1 << 12, /* what really happened: --date, the parts of a line */
    CLI_OUT_FILE = 1 << 13, /* -o, --out: one file, not a folder */
    CLI_OUT_NEW = 1 << 14,  /* the same, and never over one that is there */
    CLI_WEATHER = 1 << 15   /* --wet, --cold, --heat, --snow, --lasts */
};

/* Options that name a quantity for a sum that needs no map. */
enum cli_value {
    CLI_RUN,
    CLI_CONDUCTOR,
    CLI_LEAKAGE,
    CLI_OPEN,
    CLI_INTERNAL,
    CLI_EARTH,
    CLI_BODY,
    CLI_LINE_END, /* of those of one run of fence */
    CLI_PIPE = CLI_LINE_END,
    CLI_BORE,
    CLI_FLOW,
    CLI_C,
    CLI_FALL,
    CLI_RISE,
    CLI_PRESSURE,
    CLI_VALVE,
    CLI_COLD,
    CLI_HEAT,
    CLI_SNOW,
    CLI_LASTS,
    CLI_VALUE_COUNT
};

struct cli_command {
    const char *name;
    int (*run)(int argc, char **argv);
    const char *line;    /* in the list of commands */
    const char *inputs;  /* "FARM.yaml | FIELDS..." */
    const char *purpose; /* a few lines, in its help */
    unsigned flags;      /* enum cli_flag: the options it takes */
};

/* What the command line said. */
struct cli_args {
    const char **inputs;
    size_t input_count;
    struct fw_farm_setting *settings;
    size_t setting_count;
    const char *out;                     /* NULL: not given */
    const char *out_crs;                 /* NULL: the plan's own */
    const char *format;                  /* NULL: geojson */
    const char *tiles;                   /* NULL: none */
    const char *on;                      /* NULL: today */
    const char *values[CLI_VALUE_COUNT]; /* as written; NULL: not given */
    const char *fault;                   /* NULL: none */
    const char **measured;               /* in their order */
    size_t measured_count;
    const char **left; /* what sheep left of parts, in their order */
    size_t left_count;
    const char *points; /* NULL: three */
    const char *by;     /* what they are chosen by; NULL: the worst walk */
    const char *date;   /* NULL: the day after the last one */
    const char *days;   /* a table of days; NULL: none */
    const char *parts[FW_LOG_PARTS]; /* of a line of the log, as written */
    bool correct, undo, show;
    bool wet;
    bool perimeter, missing, force, all, json, quiet, help;
    bool winter; /* the command wants the winter's grass of the farm */
};

/* What is done between these may take a while; a terminal is told so. */
void cli_wait_begin(bool quiet);
void cli_wait_end(void);

/* 0, or 2 after a message. Release in both cases. */
int cli_parse(const struct cli_command *command, int argc, char **argv,
              struct cli_args *args);
void cli_args_release(struct cli_args *args);

/* The option that names it, without its dashes, and what it may be. */
const char *cli_value_name(enum cli_value value, const char **example);
void cli_print_help(const struct cli_command *command);

/* Print the error and give its exit code. */
int cli_report(const struct fw_error *err);
int cli_usage(const struct cli_command *command, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void cli_print_notes(const struct fw_notes *notes, bool quiet);
bool cli_colour(void);

/* enum fw_report_how of what goes to standard output, or elsewhere. */
unsigned cli_how(const struct cli_args *args, bool on_stdout);

/* Print a text on standard output and free it; 0, or 4 when it cannot be. */
int cli_print(char *text);

/* What goes to the file that --out names, or to standard output for "-"; it is
 * freed. None of the inputs is written over, and nothing else without --force.
 * 0, 2 or 4. */
int cli_put_file(const struct cli_command *command, const struct cli_args *args,
                 const struct fw_inputs *inputs, char *bytes, size_t count);

/* `foldwright power` for one run of fence, without a map. */
int cli_power_line(const struct cli_command *command,
                   const struct cli_args *args);

/* The same for a plan: its days, a fault, readings. */
int cli_power_plan(const struct cli_command *command, struct cli_args *args);

/* `foldwright water` for one pipe, without a map. */
int cli_water_pipe(const struct cli_command *command,
                   const struct cli_args *args);

/* The same for a plan: points, trips, walks. */
int cli_water_plan(const struct cli_command *command, struct cli_args *args);

/* Put the option before what is wrong with its value. */
void cli_name_value(enum cli_value value, struct fw_error *err);

/* Read the farm that the inputs and options name. */
enum fw_status cli_farm(const struct cli_args *args, bool fields_only,
                        bool every_field, struct fw_farm **out,
                        size_t *bad_count, struct fw_notes *notes,
                        struct fw_error *err);

/* 0, or 2 after a message: an input is a finished plan, and an option would
 * change what it was made from. */
int cli_refuse_settings(const struct cli_command *command,
                        const struct cli_args *args);

/* A plan, and the farm that it was made from just now; NULL when it was read.
 */
struct cli_making {
    struct fw_plan *plan;
    struct fw_farm *farm;
};

/* Read a plan that was written, or make one from the farm, and print its
 * notes; then give it to `use`, whose exit code counts. */
int cli_with_farm(const struct cli_command *command,
                  const struct cli_args *args,
                  int (*use)(const struct cli_making *planned,
                             const struct cli_args *args));
int cli_with_plan(const struct cli_command *command,
                  const struct cli_args *args,
                  int (*use)(const struct fw_plan *plan,
                             const struct cli_args *args));

/* The same, as things stand by its log, where there is one: from the next move
 * on, or the whole season. */
enum cli_log { CLI_LOG_NONE, CLI_LOG_NOW, CLI_LOG_SEASON };
int cli_with_log(const struct cli_command *command, const struct cli_args *args,
                 enum cli_log log,
                 int (*use)(const struct fw_plan *plan,
                            const struct cli_args *args));

/* standing_kept.c: the plan that a log came to when it was last added to; NULL:
 * there is none, or something that it was made from has changed. Keep it, where
 * that can be done. base: the plan.json that the log began beside; NULL: it was
 * made of the farm. */
struct fw_plan *cli_kept(const char *log, const char *base);
void cli_keep(const struct fw_log *log, const char *log_file, const char *base);

/* standing.c */
/* Of a farm file whose log has such a plan kept; -1: it has none. */
int cli_at_once(const struct cli_args *args,
                int (*use)(const struct fw_plan *plan,
                           const struct cli_args *args));
int cli_as_it_stands(const struct cli_args *args, struct cli_making *planned,
                     enum cli_log log,
                     int (*use)(const struct fw_plan *plan,
                                const struct cli_args *args));

/* In place of a season that came of a log the plan that this one began beside,
 * made of the farm anew. 0, or an exit code after a message. */
int cli_begun(const struct cli_args *args, struct cli_making *planned);

/* Its plan.json; NULL: it was made of the farm. Free it. */
char *cli_base_path(const struct cli_making *planned, const char *input);

/* Where the log of that plan lies; free it. The plan's farm file, or NULL. */
char *cli_log_path(const struct fw_plan *plan, const char *input);
const char *cli_farm_file(const struct fw_plan *plan, const char *input);

/* Who makes the plan that goes on: nobody, where there is no farm file or it is
 * not that of the plan any more. *farm is to be freed after the log. */
struct fw_log_making;
enum fw_status cli_making(const struct cli_args *args,
                          const struct cli_making *planned,
                          struct fw_farm **farm, struct fw_log_making *out,
                          struct fw_error *err);

/* The day that --on names; else today here, unless SOURCE_DATE_EPOCH fixes it.
 */
enum fw_status cli_today(const struct cli_args *args, int *day,
                         struct fw_error *err);

/* SOURCE_DATE_EPOCH, or -1. FW_EUSAGE: it is no whole number. */
enum fw_status cli_epoch(long long *out, struct fw_error *err);

extern const struct cli_command cli_check, cli_plan_command, cli_compare,
    cli_materials, cli_cautions, cli_move, cli_power, cli_record, cli_sources,
    cli_start, cli_stockpile, cli_water;

#endif
