/* One way to read options: the commands' own, and every key of the farm file
 * that has one. Long options with = or a space, never abbreviated; -- ends
 * them. */
#include "cli/cli.h"
#include "report/words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum target {
    OUT,
    OUT_CRS,
    FORMAT,
    TILES,
    ON,
    PERIMETER,
    MISSING,
    FORCE,
    ALL,
    FAULT,
    MEASURED,
    LEFT,
    POINTS,
    BY,
    DATE,
    DAYS,
    CORRECT,
    UNDO,
    SHOW,
    WET,
    JSON,
    QUIET,
    HELP,
    VALUE
};

struct own_option {
    const char *name;
    int target;        /* enum target; VALUE and more: VALUE + enum cli_value */
    const char *value; /* what stands for it in the help; NULL: a switch */
    unsigned flag;     /* taken by commands with it; 0: by all */
    const char *help;
};

static const struct own_option own_options[] = {
    {"out", OUT, "DIR", CLI_OUT,
     "the folder to write into (-o); - writes one file to standard output"},
    {"out", OUT, "FILE", CLI_OUT_FILE,
     "the file to write (-o), as PDF; - writes it to standard output"},
    {"out", OUT, "FILE", CLI_OUT_NEW,
     "the farm file to write (-o); - writes it to standard output"},
    {"force", FORCE, NULL, CLI_OUT | CLI_OUT_FILE,
     "write over files there that no plan lists as its own"},
    {"out-crs", OUT_CRS, "EPSG:n", CLI_OUT_CRS,
     "the coordinate system of plan.gpkg; the field file's own otherwise"},
    {"format", FORMAT, "NAME", CLI_FORMAT,
     "with -o -: geojson, json, gpkg, gpx, moves, materials, card, sheet, map, "
     "svg or png; with a folder: data (nothing to look at), svg or png (the "
     "sheet's map too)"},
    {"tiles", TILES, "https://maps.example/{z}/{x}/{y}.png", CLI_FORMAT,
     "where a browser has the map below map.html from; none otherwise"},
    {"on", ON, "DATE", CLI_ON,
     "the day, as 2026-05-09; otherwise today, for power the worst"},
    {"perimeter", PERIMETER, NULL, CLI_PERIMETER,
     "the list for a new fence round the fields"},
    {"missing", MISSING, NULL, CLI_PERIMETER,
     "only what the farm has not got yet, and what is taken off"},
    {"all", ALL, NULL, CLI_ALL, "what is else only counted, too"},
    {"run", VALUE + CLI_RUN, "400m", CLI_LINE, "how long the fence is"},
    {"conductor", VALUE + CLI_CONDUCTOR, "3.82ohm/m", CLI_LINE,
     "what its wire resists, or a word for the wire such as poly-6x0.20"},
    {"leakage", VALUE + CLI_LEAKAGE, "1000ohm.km", CLI_LINE,
     "what leaks from it, or clean, normal, light, moderate or heavy"},
    {"open", VALUE + CLI_OPEN, "8kV", CLI_LINE,
     "the energizer without a fence"},
    {"internal", VALUE + CLI_INTERNAL, "300ohm", CLI_LINE,
     "what the energizer itself resists"},
    {"earth", VALUE + CLI_EARTH, "20ohm", CLI_LINE,
     "what its earth rods resist"},
    {"body", VALUE + CLI_BODY, "500ohm", CLI_LINE,
     "what a sheep resists; 500 ohm otherwise"},
    {"pipe", VALUE + CLI_PIPE, "300m", CLI_ONE_PIPE, "how long the pipe is"},
    {"bore", VALUE + CLI_BORE, "26.6mm", CLI_ONE_PIPE,
     "how wide it is inside; without it the least that is enough"},
    {"flow", VALUE + CLI_FLOW, "19L/min", CLI_ONE_PIPE,
     "what it is to bring while the trough fills"},
    {"c", VALUE + CLI_C, "150", CLI_ONE_PIPE,
     "how smooth it is: new plastic 150, galvanised 100; 140 otherwise"},
    {"fall", VALUE + CLI_FALL, "12m", CLI_ONE_PIPE,
     "how much higher than the trough the source stands"},
    {"rise", VALUE + CLI_RISE, "4m", CLI_ONE_PIPE, "or how much lower"},
    {"pressure", VALUE + CLI_PRESSURE, "2.5bar", CLI_ONE_PIPE,
     "what a pump or the mains has at the source, while it flows"},
    {"valve", VALUE + CLI_VALVE, "0.2bar", CLI_ONE_PIPE,
     "what the trough's valve wants while it fills; 0.2 bar otherwise"},
    {"fault", FAULT, "short:A03-04@40m:500ohm", CLI_TESTER,
     "what a tester reads with it: broken:FENCE@40m, short:..., or rain"},
    {"measured", MEASURED, "5.6kV@corner:3", CLI_TESTER,
     "what a tester read there, or at FENCE@40m; as often as needed"},
    {"left", LEFT, "PART=HEIGHT", CLI_LEFT,
     "how high the sheep left a part, such as heavy=6cm; as often as needed"},
    {"points", POINTS, "3", CLI_POINTS,
     "so many water points at most, up to 16; 3 otherwise"},
    {"by", BY, "mean-walk", CLI_POINTS,
     "what they are chosen by: walk (the longest), mean-walk or minutes"},
    {"date", DATE, "DATE", CLI_DAY,
     "the day; otherwise the one after the last that was written down"},
    {"correct", CORRECT, NULL, CLI_DAY,
     "a day that was written down: what is told takes its place"},
    {"undo", UNDO, NULL, CLI_DAY, "take the last line back"},
    {"days", DAYS, "FILE.csv", CLI_DAY,
     "many days at once; the first row names the parts"},
    {"show", SHOW, NULL, CLI_DAY, "all days so far"},
    {"out", OUT, "FILE", CLI_DAY,
     "with --show: FILE.csv, a row a day, FILE.svg, the same as a picture, or "
     "FILE.geojson, the grazed ground"},
    {"wet", WET, NULL, CLI_WEATHER, "it rains, or the ground is wet"},
    {"cold", VALUE + CLI_COLD, "-15C", CLI_WEATHER,
     "the coldest of the day and the night after it"},
    {"heat", VALUE + CLI_HEAT, "33C", CLI_WEATHER, "the hottest of the day"},
    {"snow", VALUE + CLI_SNOW, "20cm", CLI_WEATHER, "how deep it lies"},
    {"lasts", VALUE + CLI_LASTS, "5days", CLI_WEATHER,
     "how long such weather lasts; as the farm's table of weather has it "
     "otherwise"},
    {"json", JSON, NULL, 0, "for machines"},
    {"quiet", QUIET, NULL, 0, "no notes on standard error"},
    {"help", HELP, NULL, 0, "this page"},
};
static const size_t own_count = sizeof own_options / sizeof own_options[0];

static bool takes(const struct cli_command *command,
                  const struct own_option *option)
{
    return option->flag == 0 || (command->flags & option->flag);
}

static const struct own_option *find_own(const struct cli_command *command,
                                         const char *name)
{
    for (size_t i = 0; i < own_count; i++)
        if (strcmp(own_options[i].name, name) == 0 &&
            takes(command, &own_options[i]))
            return &own_options[i];
    return NULL;
}

/* Options stand in the tables with their dashes. */
static const struct fw_farm_key *find_in(const struct fw_farm_key *keys,
                                         size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (keys[i].option && strcmp(keys[i].option + 2, name) == 0)
            return &keys[i];
    return NULL;
}

/* The key whose option this is; one that is gone too: reading the farm says
 * what to do in its place. */
static const struct fw_farm_key *find_key(const struct cli_command *command,
                                          const char *name)
{
    size_t count, gone_count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    const struct fw_farm_key *gone = fw_farm_gone_keys(&gone_count);
    if (!(command->flags & CLI_FARM))
        return NULL;
    const struct fw_farm_key *key = find_in(keys, count, name);
    return key ? key : find_in(gone, gone_count, name);
}

const char *cli_value_name(enum cli_value value, const char **example)
{
    for (size_t i = 0; i < own_count; i++)
        if (own_options[i].target == VALUE + (int)value) {
            *example = own_options[i].value;
            return own_options[i].name;
        }
    return NULL;
}

void cli_name_value(enum cli_value value, struct fw_error *err)
{
    const char *example;
    const struct fw_error inner = *err;
    snprintf(err->text, sizeof err->text, "--%s: %.900s",
             cli_value_name(value, &example), inner.text);
}

/* The part of a line of the log whose option this is; NULL: it is none. */
static const struct fw_log_part_row *
find_part(const struct cli_command *command, const char *name,
          enum fw_log_part *part)
{
    *part = command->flags & CLI_DAY ? fw_log_part_named(name, strlen(name))
                                     : FW_LOG_PARTS;
    return *part == FW_LOG_PARTS ? NULL : fw_log_part_row(*part);
}

static int unknown(const struct cli_command *command, const char *name)
{
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    const char **names =
        calloc(count + own_count + FW_LOG_PARTS, sizeof *names);
    size_t n = 0;
    for (int i = 0; names && i < FW_LOG_PARTS && command->flags & CLI_DAY; i++)
        names[n++] = fw_log_part_row((enum fw_log_part)i)->name;
    for (size_t i = 0; names && i < own_count; i++)
        if (takes(command, &own_options[i]))
            names[n++] = own_options[i].name;
    for (size_t i = 0; names && i < count && command->flags & CLI_FARM; i++)
        if (keys[i].option)
            names[n++] = keys[i].option + 2;
    const char *near = names ? fw_text_nearest(name, names, n) : NULL;
    const int code =
        near ? cli_usage(command, "there is no option --%s; did you mean --%s?",
                         name, near)
             : cli_usage(command, "there is no option --%s", name);
    free(names);
    return code;
}

static void set_own(struct cli_args *args, const struct own_option *option,
                    const char *value)
{
    switch (option->target) {
    case OUT:
        args->out = value;
        break;
    case OUT_CRS:
        args->out_crs = value;
        break;
    case FORMAT:
        args->format = value;
        break;
    case TILES:
        args->tiles = value;
        break;
    case ON:
        args->on = value;
        break;
    case PERIMETER:
        args->perimeter = true;
        break;
    case MISSING:
        args->missing = true;
        break;
    case FORCE:
        args->force = true;
        break;
    case ALL:
        args->all = true;
        break;
    case FAULT:
        args->fault = value;
        break;
    case MEASURED:
        args->measured[args->measured_count++] = value;
        break;
    case LEFT:
        args->left[args->left_count++] = value;
        break;
    case POINTS:
        args->points = value;
        break;
    case BY:
        args->by = value;
        break;
    case DATE:
        args->date = value;
        break;
    case DAYS:
        args->days = value;
        break;
    case CORRECT:
        args->correct = true;
        break;
    case UNDO:
        args->undo = true;
        break;
    case SHOW:
        args->show = true;
        break;
    case WET:
        args->wet = true;
        break;
    case JSON:
        args->json = true;
        break;
    case QUIET:
        args->quiet = true;
        break;
    case HELP:
        args->help = true;
        break;
    default:
        args->values[option->target - VALUE] = value;
        break;
    }
}

/* One long option; *i moves past its value. The name is cut out of argv, which
 * is ours to write in. */
static int take_long(const struct cli_command *command, int argc, char **argv,
                     int *i, struct cli_args *args)
{
    char *name = argv[*i] + 2;
    char *value = strchr(name, '=');
    if (value)
        *value++ = '\0';
    enum fw_log_part part;
    const struct own_option *own = find_own(command, name);
    const struct fw_log_part_row *day =
        own ? NULL : find_part(command, name, &part);
    const struct fw_farm_key *key = own || day ? NULL : find_key(command, name);
    if (!own && !key && !day)
        return unknown(command, name);
    const char *example = own   ? own->value
                          : day ? day->example
                                : fw_farm_key_option_example(key);
    const bool wants = example != NULL;
    if (!wants && value)
        return cli_usage(command, "--%s takes no value", name);
    if (wants && !value) {
        if (*i + 1 >= argc)
            return cli_usage(command, "--%s needs a value, such as --%s %s",
                             name, name, example);
        value = argv[++*i];
    }
    if (own)
        set_own(args, own, value);
    else if (day)
        args->parts[part] = value ? value : "";
    else
        args->settings[args->setting_count++] =
            (struct fw_farm_setting){key->path, value, key->option};
    return 0;
}

static int take_short(const struct cli_command *command, int argc, char **argv,
                      int *i, struct cli_args *args)
{
    const char *word = argv[*i];
    if (word[1] != 'o' ||
        !(command->flags & (CLI_OUT | CLI_OUT_FILE | CLI_OUT_NEW | CLI_DAY)))
        return cli_usage(command, "there is no option %s", word);
    if (word[2])
        args->out = word + 2;
    else if (*i + 1 < argc)
        args->out = argv[++*i];
    else
        return cli_usage(command, command->flags & CLI_OUT
                                      ? "-o needs a folder, such as -o out/"
                                  : command->flags & CLI_DAY
                                      ? "-o needs a file, such as -o days.csv"
                                      : "-o needs a file, such as -o week.pdf");
    return 0;
}

int cli_parse(const struct cli_command *command, int argc, char **argv,
              struct cli_args *args)
{
    *args = (struct cli_args){0};
    args->inputs = calloc((size_t)argc, sizeof *args->inputs);
    args->settings =
        calloc((size_t)argc + CLI_VALUE_COUNT, sizeof *args->settings);
    args->measured = calloc((size_t)argc, sizeof *args->measured);
    args->left = calloc((size_t)argc, sizeof *args->left);
    if (!args->inputs || !args->settings || !args->measured || !args->left) {
        fputs("foldwright: out of memory\n", stderr);
        return 5;
    }
    bool ended = false;
    for (int i = 1; i < argc; i++) {
        const char *word = argv[i];
        int code = 0;
        if (!ended && strcmp(word, "--") == 0)
            ended = true;
        else if (!ended && word[0] == '-' && word[1] == '-')
            code = take_long(command, argc, argv, &i, args);
        else if (!ended && word[0] == '-' && word[1])
            code = take_short(command, argc, argv, &i, args);
        else
            args->inputs[args->input_count++] = word;
        if (code)
            return code;
    }
    return 0;
}

void cli_args_release(struct cli_args *args)
{
    free(args->inputs);
    free(args->settings);
    free(args->measured);
    free(args->left);
    *args = (struct cli_args){0};
}

/* Its words stand from column 30 on, folded. */
static void print_option(const char *name, const char *value, const char *help)
{
    enum { column = 30 };
    struct fw_text text = {.columns = 80};
    fw_text_addf(&text, "  --%s%s%s", name, value ? " " : "",
                 value ? value : "");
    if (text.length > column - 1)
        fw_text_addf(&text, "\n%*s", column, "");
    else
        fw_text_addf(&text, "%*s", (int)(column - text.length), "");
    fw_report_fold(&text, column, help);
    if (!text.failed)
        fputs(text.bytes, stdout);
    fw_text_release(&text);
}

void cli_print_help(const struct cli_command *command)
{
    printf("foldwright %s [options] %s\n\n%s\n\n", command->name,
           command->inputs, command->purpose);
    for (size_t i = 0; i < own_count; i++)
        if (takes(command, &own_options[i]))
            print_option(own_options[i].name, own_options[i].value,
                         own_options[i].help);
    for (int i = 0; i < FW_LOG_PARTS && command->flags & CLI_DAY; i++) {
        const struct fw_log_part_row *part =
            fw_log_part_row((enum fw_log_part)i);
        print_option(part->name, part->example, part->help);
    }
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    if (!(command->flags & CLI_FARM))
        return;
    puts("\nOver what a farm file says, or without one:");
    for (size_t i = 0; i < count; i++)
        if (keys[i].option && !find_own(command, keys[i].option + 2))
            print_option(keys[i].option + 2,
                         fw_farm_key_option_example(&keys[i]), keys[i].help);
}
