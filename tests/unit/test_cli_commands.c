/* The commands, run as the program runs them: exit codes, what goes to which
 * stream, every option; and the program itself where it is more than they. */
#include "cli_help.h"
#include "farm_help.h"
#include "read_back.h"

#include "base/progress.h"
#include "cli/cli.h"
#include "keys/keys.h"
#include "picture/picture.h"

#include <signal.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <time.h>

static char *program; /* its path */

#define LINE_OPTIONS                                                           \
    " --run 400m --conductor 3.82ohm/m --leakage 1000ohm.km --open 8kV "       \
    "--internal 300ohm --earth 20ohm"

/* A field, a farm file, and the plan of it in out/. */
static int set_up(void **state)
{
    if (farm_set_up(state))
        return -1;
    unsetenv("SOURCE_DATE_EPOCH");
    setenv("TZ", "UTC", 1);
    put_text("farm.yaml",
             "farm: Test\nstart: 2027-05-17\nstay: 1 day\n"
             "flock: [{class: ewes, head: 40, weight: 70 kg, state: dry}]\n"
             "forage: {mass: 2600 kg/ha, residual: 1400 kg/ha}\n"
             "fields: {source: field.geojson, name: name, each: [{field: Long "
             "Bottom, gate: corner:1, water: corner:2, perimeter: {holds: "
             "sheep, hot: yes}}]}\n"
             "prices: {currency: EUR, post: 2, reel: 40, wire: 0.05}\n");
    return run_into("said-out", &cli_plan_command,
                    "plan --quiet farm.yaml -o out");
}

/* ---- reading the command line ---- */

static struct cli_args args;
static char parse_line[1000];

static int parse(const struct cli_command *command, const char *words)
{
    char *argv[40];
    snprintf(parse_line, sizeof parse_line, "%s", words);
    const int argc = split_words(parse_line, argv);
    const struct caught caught = catch_streams("said-out");
    const int code = cli_parse(command, argc, argv, &args);
    let_streams_go(caught);
    return code;
}

static void refuses(const struct cli_command *command, const char *words,
                    const char *says)
{
    assert_int_equal(parse(command, words), 2);
    char *text = whole_file("said-err");
    has_words(text, says);
    assert_int_equal(times(text, "\n"), 2);
    has_words(text, " --help tells what it takes)\n");
    free(text);
    cli_args_release(&args);
}

static void options_are_read_in_every_form(void **state)
{
    (void)state;
    assert_int_equal(
        parse(&cli_plan_command,
              "plan a.yaml --out=o1 --out-crs EPSG:1 --format=gpx --all "
              "--force --json --quiet --head 90 --head=91 b.yaml"),
        0);
    assert_string_equal(args.out, "o1");
    assert_string_equal(args.out_crs, "EPSG:1");
    assert_string_equal(args.format, "gpx");
    assert_true(args.all && args.force && args.json && args.quiet);
    assert_false(args.help || args.perimeter);
    assert_int_equal(args.input_count, 2);
    assert_string_equal(args.inputs[0], "a.yaml");
    assert_string_equal(args.inputs[1], "b.yaml");
    assert_int_equal(args.setting_count, 2);
    assert_string_equal(args.settings[0].value, "90");
    assert_string_equal(args.settings[1].value, "91");
    assert_string_equal(args.settings[1].where, "--head");
    assert_string_equal(args.settings[0].key, args.settings[1].key);
    assert_null(strstr(args.settings[0].key, "--"));
    cli_args_release(&args);
    assert_null(args.inputs);
    assert_int_equal(args.setting_count, 0);

    assert_int_equal(parse(&cli_plan_command, "plan -o o2 -- --all -o -"), 0);
    assert_string_equal(args.out, "o2");
    assert_false(args.all);
    assert_int_equal(args.input_count, 3);
    assert_string_equal(args.inputs[0], "--all");
    assert_string_equal(args.inputs[1], "-o");
    assert_string_equal(args.inputs[2], "-");
    cli_args_release(&args);
    assert_int_equal(parse(&cli_plan_command, "plan - -oo3 --help"), 0);
    assert_string_equal(args.out, "o3");
    assert_string_equal(args.inputs[0], "-");
    assert_true(args.help);
    cli_args_release(&args);
    assert_int_equal(parse(&cli_plan_command, "plan"), 0);
    assert_null(args.out);
    assert_int_equal(args.input_count, 0);
    cli_args_release(&args);
    assert_int_equal(parse(&cli_materials, "materials a --perimeter"), 0);
    assert_true(args.perimeter);
    cli_args_release(&args);
}

static void options_of_sums_are_read(void **state)
{
    (void)state;
    static const char *const names[CLI_VALUE_COUNT] = {
        [CLI_RUN] = "run",
        [CLI_CONDUCTOR] = "conductor",
        [CLI_LEAKAGE] = "leakage",
        [CLI_OPEN] = "open",
        [CLI_INTERNAL] = "internal",
        [CLI_EARTH] = "earth",
        [CLI_BODY] = "body",
        [CLI_PIPE] = "pipe",
        [CLI_BORE] = "bore",
        [CLI_FLOW] = "flow",
        [CLI_C] = "c",
        [CLI_FALL] = "fall",
        [CLI_RISE] = "rise",
        [CLI_PRESSURE] = "pressure",
        [CLI_VALVE] = "valve",
        [CLI_COLD] = "cold",
        [CLI_HEAT] = "heat",
        [CLI_SNOW] = "snow",
        [CLI_LASTS] = "lasts"};
    for (int i = 0; i < CLI_VALUE_COUNT; i++) {
        const char *example = NULL;
        assert_string_equal(cli_value_name((enum cli_value)i, &example),
                            names[i]);
        char words[100];
        const struct cli_command *command = i < CLI_LINE_END ? &cli_power
                                            : i < CLI_COLD   ? &cli_water
                                                             : &cli_move;
        snprintf(words, sizeof words, "%s --%s %s", command->name, names[i],
                 example);
        assert_int_equal(parse(command, words), 0);
        for (int k = 0; k < CLI_VALUE_COUNT; k++)
            assert_true((args.values[k] != NULL) == (k == i));
        assert_string_equal(args.values[i], example);
        cli_args_release(&args);
    }
    const char *example = NULL;
    assert_null(cli_value_name(CLI_VALUE_COUNT, &example));
    assert_int_equal(parse(&cli_power, "power out --on 2027-05-17 --measured a "
                                       "--fault f --measured=b"),
                     0);
    assert_string_equal(args.on, "2027-05-17");
    assert_string_equal(args.fault, "f");
    assert_int_equal(args.measured_count, 2);
    assert_string_equal(args.measured[0], "a");
    assert_string_equal(args.measured[1], "b");
    cli_args_release(&args);
}

static void what_is_no_option_is_refused(void **state)
{
    (void)state;
    refuses(&cli_plan_command, "plan --quite",
            "foldwright: there is no option --quite; did you mean --quiet?\n");
    refuses(&cli_plan_command, "plan --haed 9", "; did you mean --head?\n");
    refuses(&cli_plan_command, "plan --oot", "; did you mean --out?\n");
    refuses(&cli_plan_command, "plan --hepl", "; did you mean --help?\n");
    refuses(&cli_plan_command, "plan --xyzzyxyzzy",
            "foldwright: there is no option --xyzzyxyzzy\n");
    refuses(&cli_plan_command, "plan --perimeter", "no option --perimeter");
    refuses(&cli_sources, "sources --head 9", "no option --head\n");
    refuses(&cli_plan_command, "plan --json=1",
            "foldwright: --json takes no value\n");
    refuses(&cli_plan_command, "plan --out",
            "foldwright: --out needs a value, such as --out DIR\n");
    refuses(&cli_plan_command, "plan --head",
            "foldwright: --head needs a value, such as --head 90\n");
    refuses(&cli_plan_command, "plan -x",
            "foldwright: there is no option -x\n");
    refuses(&cli_materials, "materials -o out", "there is no option -o\n");
    refuses(&cli_move, "move -o",
            "foldwright: -o needs a file, such as -o week.pdf\n");
    refuses(&cli_plan_command, "plan -o",
            "foldwright: -o needs a folder, such as -o out/\n");
    size_t count;
    const struct fw_farm_key *gone = fw_farm_gone_keys(&count);
    for (size_t i = 0; i < count; i++) {
        char words[200];
        if (!gone[i].option)
            continue;
        snprintf(words, sizeof words, "plan a %s x", gone[i].option);
        assert_int_equal(parse(&cli_plan_command, words), 0);
        assert_string_equal(args.settings[0].key, gone[i].path);
        cli_args_release(&args);
    }
}

/* A command line that is wrong is not run. */
static void no_command_runs_on_a_wrong_line(void **state)
{
    (void)state;
    static const struct cli_command *const all[] = {
        &cli_check,     &cli_plan_command, &cli_compare,  &cli_materials,
        &cli_move,      &cli_power,        &cli_cautions, &cli_sources,
        &cli_stockpile, &cli_water};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        char words[60], says[120];
        snprintf(words, sizeof words, "%s farm.yaml -x --help", all[i]->name);
        snprintf(says, sizeof says,
                 "foldwright: there is no option -x\n(foldwright %s --help "
                 "tells what it takes)\n",
                 all[i]->name);
        ends(all[i], words, 2, "", says);
    }
}

/* What goes on at column 30 of the next line is one line again. */
static char *unfolded(const char *help)
{
    static const char below[] = "\n                              ";
    char *whole = strdup(help), *to = whole;
    for (const char *from = help; *from;)
        if (strncmp(from, below, strlen(below)) == 0) {
            *to++ = ' ';
            from += strlen(below);
        } else {
            *to++ = *from++;
        }
    *to = '\0';
    return whole;
}

/* Whatever an option is for stands beside it from column 30 on, or below. */
static void help_has(const char *help, const char *option, const char *value,
                     const char *says, size_t wanted)
{
    char left[80], line[400];
    snprintf(left, sizeof left, "%s%s%s", option, value ? " " : "",
             value ? value : "");
    if (strlen(left) > 27)
        snprintf(line, sizeof line, "\n  %s %s\n", left, says);
    else
        snprintf(line, sizeof line, "\n  %-28s%s\n", left, says);
    char *whole = unfolded(help);
    if (times(whole, line) != wanted)
        fail_msg("%zu times in the help:%s\n%s", times(whole, line), line,
                 help);
    free(whole);
}

static void help_has_every_option_once(void **state)
{
    (void)state;
    const struct cli_command *const all[] = {
        &cli_check,     &cli_plan_command, &cli_compare,  &cli_materials,
        &cli_move,      &cli_power,        &cli_cautions, &cli_sources,
        &cli_stockpile, &cli_water};
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t c = 0; c < sizeof all / sizeof *all; c++) {
        char words[60], head[400];
        snprintf(words, sizeof words, "%s --help", all[c]->name);
        struct ran ran = run(all[c], words);
        assert_int_equal(ran.code, 0);
        snprintf(head, sizeof head, "foldwright %s [options] %s\n\n%.200s",
                 all[c]->name, all[c]->inputs, all[c]->purpose);
        assert_memory_equal(ran.out, head, strlen(head));
        const bool farm = all[c]->flags & CLI_FARM;
        const bool line = all[c]->flags & CLI_LINE;
        help_has(ran.out, "--quiet", NULL, "no notes on standard error", 1);
        help_has(ran.out, "--help", NULL, "this page", 1);
        help_has(ran.out, "--json", NULL, "for machines", 1);
        help_has(ran.out, "--out", "DIR",
                 "the folder to write into (-o); - writes one file to standard "
                 "output",
                 all[c]->flags & CLI_OUT ? 1 : 0);
        help_has(ran.out, "--run", "400m", "how long the fence is", line);
        help_has(ran.out, "--perimeter", NULL,
                 "the list for a new fence round the fields",
                 all[c]->flags & CLI_PERIMETER ? 1 : 0);
        assert_int_equal(times(ran.out, "\n\nOver what a farm file says"),
                         farm);
        /* One of their own goes before a key of the same name. */
        assert_int_equal(times(ran.out, "\n  --conductor "), farm || line);
        for (size_t i = 0; i < count; i++)
            if (keys[i].option && (!line || !strstr("--conductor --leakage "
                                                    "--open --internal --earth",
                                                    keys[i].option)))
                help_has(ran.out, keys[i].option,
                         fw_farm_key_option_example(&keys[i]), keys[i].help,
                         farm);
        ran_free(&ran);
    }
}

/* ---- what they share ---- */

static void each_status_has_its_code(void **state)
{
    (void)state;
    static const int codes[] = {
        [FW_EPLAN] = 1,   [FW_EUSAGE] = 2, [FW_EINPUT] = 3,
        [FW_EOUTPUT] = 4, [FW_ENOMEM] = 5, [FW_EFAULT] = 5};
    for (int status = FW_EPLAN; status <= FW_EFAULT; status++) {
        const struct fw_error err = {(enum fw_status)status, "what is wrong"};
        const struct caught caught = catch_streams("said-out");
        const int code = cli_report(&err);
        let_streams_go(caught);
        assert_int_equal(code, codes[status]);
        char *text = whole_file("said-err");
        assert_string_equal(text, "foldwright: what is wrong\n");
        free(text);
    }
}

static void notes_are_lines(void **state)
{
    (void)state;
    struct fw_note items[] = {
        {FW_LEVEL_NOTE, (char *)"a.yaml:3", (char *)"one"},
        {FW_LEVEL_DANGER, (char *)"", (char *)"two"}};
    const struct fw_notes notes = {items, 2, 2};
    for (int quiet = 0; quiet < 2; quiet++) {
        const struct caught caught = catch_streams("said-out");
        cli_print_notes(&notes, quiet);
        let_streams_go(caught);
        char *text = whole_file("said-err");
        assert_string_equal(text, quiet ? ""
                                        : "foldwright: note: a.yaml:3: one\n"
                                          "foldwright: danger: two\n");
        free(text);
    }
}

static void epoch_is(const char *text, int status, long long wanted)
{
    struct fw_error err = {0};
    long long got = -7;
    if (text)
        setenv("SOURCE_DATE_EPOCH", text, 1);
    assert_int_equal(cli_epoch(&got, &err), status);
    unsetenv("SOURCE_DATE_EPOCH");
    if (status == FW_OK) {
        assert_int_equal(got, wanted);
        return;
    }
    assert_int_equal(err.status, status);
    has_words(err.text, "SOURCE_DATE_EPOCH: \"");
    has_words(err.text, text);
    has_words(err.text, "0 to 7289654399, the end of 2200");
}

/* 2200-12-31T23:59:59 is 7289654399 (84,370 days of 86,400 s, and a day less a
 * second). */
static void a_told_time_is_seconds(void **state)
{
    (void)state;
    epoch_is(NULL, FW_OK, -1);
    epoch_is("", FW_OK, -1);
    epoch_is("0", FW_OK, 0);
    epoch_is("1810000000", FW_OK, 1810000000);
    epoch_is("0000000000000000000001", FW_OK, 1);
    epoch_is("7289654399", FW_OK, 7289654399);
    epoch_is("7289654400", FW_EUSAGE, 0);
    epoch_is("99999999999999999999999", FW_EUSAGE, 0);
    epoch_is("12x", FW_EUSAGE, 0);
    epoch_is("-1", FW_EUSAGE, 0);
    epoch_is("1.5", FW_EUSAGE, 0);
    epoch_is(":", FW_EUSAGE, 0);
    epoch_is("/", FW_EUSAGE, 0);
    setenv("SOURCE_DATE_EPOCH", "x", 1);
    long long epoch_s;
    assert_int_equal(cli_epoch(&epoch_s, NULL), FW_EUSAGE);
    ends(&cli_plan_command, "plan farm.yaml", 2, "", "SOURCE_DATE_EPOCH");
    ends(&cli_move, "move out", 2, "", "SOURCE_DATE_EPOCH");
    unsetenv("SOURCE_DATE_EPOCH");
}

/* ---- a terminal ---- */

/* The other end of a new terminal that the stream goes to now. */
static int terminal(int stream, int *kept)
{
    const int other = posix_openpt(O_RDWR | O_NOCTTY);
    assert_true(other >= 0 && grantpt(other) == 0 && unlockpt(other) == 0);
    const int own = open(ptsname(other), O_RDWR | O_NOCTTY);
    assert_true(own >= 0);
    fflush(stdout);
    fflush(stderr);
    *kept = dup(stream);
    dup2(own, stream);
    close(own);
    fcntl(other, F_SETFL, O_NONBLOCK);
    return other;
}

static size_t seen(int other, char *text, size_t room)
{
    size_t length = 0;
    for (;;) {
        const ssize_t got = read(other, text + length, room - 1 - length);
        if (got <= 0)
            break;
        length += (size_t)got;
    }
    text[length] = '\0';
    return length;
}

static bool colours(const char *term, const char *no_colour, bool tty)
{
    int kept = -1;
    const int other = tty ? terminal(STDOUT_FILENO, &kept) : -1;
    const struct caught caught =
        tty ? (struct caught){-1, -1} : catch_streams("said-out");
    if (term)
        setenv("TERM", term, 1);
    else
        unsetenv("TERM");
    if (no_colour)
        setenv("NO_COLOR", no_colour, 1);
    else
        unsetenv("NO_COLOR");
    const struct cli_args none = {0}, all = {.all = true};
    const bool colour = cli_colour();
    const unsigned how[] = {cli_how(&none, true), cli_how(&all, true),
                            cli_how(&none, false), cli_how(&all, false)};
    setenv("NO_COLOR", "1", 1);
    if (tty) {
        put_back(STDOUT_FILENO, kept);
        close(other);
    } else {
        let_streams_go(caught);
    }
    assert_int_equal(how[0], colour ? FW_REPORT_COLOUR : 0);
    assert_int_equal(how[1], (colour ? FW_REPORT_COLOUR : 0) | FW_REPORT_ALL);
    assert_int_equal(how[2], 0);
    assert_int_equal(how[3], FW_REPORT_ALL);
    return colour;
}

/* As no-color.org has it: not with NO_COLOR, unless it is empty. */
static void colours_are_for_terminals(void **state)
{
    (void)state;
    assert_true(colours("xterm", NULL, true));
    assert_true(colours("xterm", "", true));
    assert_false(colours("xterm", "1", true));
    assert_false(colours("dumb", NULL, true));
    assert_false(colours(NULL, NULL, true));
    assert_false(colours("xterm", NULL, false));
}

static struct itimerval timer(void)
{
    struct itimerval now;
    getitimer(ITIMER_REAL, &now);
    return now;
}

/* Is that what line `number` of a terminal says? Each is written over the one
 * before, so it has blanks to the last column but one. */
static bool says(const char *terminal_text, size_t number, const char *words)
{
    enum { columns = 79 };
    const char *line = terminal_text + number * columns;
    const size_t length = strlen(words);
    bool blank = strlen(terminal_text) >= (number + 1) * columns &&
                 line[0] == '\r' && strncmp(line + 1, words, length) == 0;
    for (size_t i = length + 1; blank && i < columns; i++)
        blank = line[i] == ' ';
    return blank;
}

/* What is being done, and how long yet: as long as it took, by the share. */
static void time_left_is_told(void **state)
{
    (void)state;
    int kept;
    char said[4000];
    const int other = terminal(STDERR_FILENO, &kept);
    cli_wait_begin(false);
    raise(SIGALRM); /* 2 s: nothing is said yet */
    fw_progress_begin("counting sheep");
    raise(SIGALRM); /* 4 s: 1 s of it on average, no share */
    const struct fw_progress all = fw_progress_enter(1, 4);
    raise(SIGALRM); /* 6 s: 3 s of it, a quarter: three times as long yet */
    fw_progress_leave(all);
    seen(other, said, sizeof said);
    char late[4000], last[4000];
    for (int i = 0; i < 149; i++) {
        raise(SIGALRM); /* to 304 s: 301 s of it, a half */
        seen(other, late, sizeof late);
    }
    fw_progress_begin("a thing of so many words that a terminal has no room "
                      "for all of them, nor would anybody read so far");
    raise(SIGALRM);
    seen(other, last, sizeof last);
    cli_wait_end();
    put_back(STDERR_FILENO, kept);
    close(other);
    assert_true(says(said, 0, "foldwright: at work, 2 s"));
    assert_true(says(said, 1, "foldwright: at work, 4 s; counting sheep"));
    assert_true(says(said, 2,
                     "foldwright: at work, 6 s; counting sheep: about 9 s "
                     "left"));
    assert_true(says(late, 0,
                     "foldwright: at work, 6 min; counting sheep: about 6 min "
                     "left"));
    assert_true(says(last, 0,
                     "foldwright: at work, 6 min; a thing of so many words "
                     "that a terminal has no ro"));
    assert_int_equal(strlen(last), 79);
}

/* The alarm is raised by hand: nobody waits. */
static void who_waits_at_a_terminal_is_told(void **state)
{
    (void)state;
    int kept;
    char said[4000];
    const int other = terminal(STDERR_FILENO, &kept);
    cli_wait_begin(true);
    const struct itimerval quiet = timer();
    cli_wait_begin(false);
    const struct itimerval set = timer();
    raise(SIGALRM);
    raise(SIGALRM);
    const size_t early = seen(other, said, sizeof said);
    for (int i = 0; i < 4; i++)
        raise(SIGALRM);
    cli_wait_end();
    char later[1000];
    seen(other, later, sizeof later);
    const struct itimerval after = timer();
    cli_wait_begin(false);
    cli_wait_end();
    char none[100];
    const size_t nothing = seen(other, none, sizeof none);
    put_back(STDERR_FILENO, kept);
    close(other);
    assert_int_equal(quiet.it_interval.tv_sec, 0);
    assert_int_equal(quiet.it_value.tv_sec + quiet.it_value.tv_usec, 0);
    assert_int_equal(set.it_interval.tv_sec, 2);
    assert_int_equal(set.it_interval.tv_usec, 0);
    assert_true(set.it_value.tv_sec > 0);
    assert_int_equal(after.it_interval.tv_sec + after.it_interval.tv_usec, 0);
    assert_int_equal(after.it_value.tv_usec + after.it_value.tv_sec, 0);
    assert_true(early > 0);
    assert_true(says(said, 0, "foldwright: at work, 2 s"));
    assert_true(says(said, 1, "foldwright: at work, 4 s"));
    assert_true(says(later, 2, "foldwright: at work, 10 s"));
    assert_true(says(later, 3, "foldwright: at work, 12 s"));
    assert_non_null(strstr(later, " \r\n"));
    assert_int_equal(nothing, 0);
    /* Nor where standard error is a file. */
    const struct caught caught = catch_streams("said-out");
    cli_wait_begin(false);
    const struct itimerval to_file = timer();
    cli_wait_end();
    let_streams_go(caught);
    assert_int_equal(to_file.it_interval.tv_sec, 0);
}

/* No alarm is left behind by a command. */
static void no_alarm_is_left(void **state)
{
    (void)state;
    static const struct {
        const struct cli_command *command;
        const char *words;
    } rows[] = {{&cli_plan_command, "plan farm.yaml"},
                {&cli_compare, "compare farm.yaml"},
                {&cli_compare, "compare nowhere.yaml"},
                {&cli_plan_command, "plan nowhere.yaml"}};
    for (size_t i = 0; i < 4; i++) {
        int kept;
        char said[4000], line[100], *argv[40];
        fflush(stdout);
        const int out = redirected(STDOUT_FILENO, "said-out");
        const int other = terminal(STDERR_FILENO, &kept);
        snprintf(line, sizeof line, "%s", rows[i].words);
        const int argc = split_words(line, argv);
        rows[i].command->run(argc, argv);
        const struct itimerval after = timer();
        fflush(stdout);
        fflush(stderr);
        seen(other, said, sizeof said);
        put_back(STDERR_FILENO, kept);
        put_back(STDOUT_FILENO, out);
        close(other);
        assert_int_equal(after.it_interval.tv_sec, 0);
        assert_int_equal(after.it_value.tv_sec + after.it_value.tv_usec, 0);
    }
}

/* A part of a field that is too small is left out, and a note says so. */
static void notes_are_told_unless_quiet(void **state)
{
    (void)state;
    static const struct {
        const struct cli_command *command;
        const char *words;
    } rows[] = {
        {&cli_check, "check part.geojson"},
        {&cli_materials, "materials part.geojson"},
        {&cli_compare, "compare part.geojson --head 40 --weight 70kg --class "
                       "dry --mass 2600kg/ha --residual 1400kg/ha --start "
                       "2027-05-17"},
        {&cli_move, "move part.geojson --on 2027-05-17 --head 40 --weight 70kg "
                    "--class dry --mass 2600kg/ha --residual 1400kg/ha --start "
                    "2027-05-17"},
    };
    put_text("part.geojson",
             COLLECTION(FEATURE(
                 "Two", "{\"type\":\"MultiPolygon\",\"coordinates\":"
                        "[[" FIELD_RING "],[[[9.01,51.0],[9.01001,51.0],"
                        "[9.01001,51.00001],[9.01,51.0]]]]}")));
    for (size_t i = 0; i < 4; i++) {
        char words[300];
        ends(rows[i].command, rows[i].words, 0, NULL, "foldwright: note: ");
        snprintf(words, sizeof words, "%s --quiet", rows[i].words);
        ends(rows[i].command, words, 0, NULL, "");
    }
}

/* ---- full disks ---- */

static void full(const struct cli_command *command, const char *words)
{
    assert_int_equal(run_into("/dev/full", command, words), 4);
    char *text = whole_file("said-err");
    has_words(text, "foldwright: standard output: No space left on device\n");
    free(text);
}

static void a_full_disk_is_told(void **state)
{
    (void)state;
    full(&cli_sources, "sources pace");
    full(&cli_plan_command, "plan --quiet farm.yaml -o -");
    full(&cli_check, "check field.geojson");
    full(&cli_materials, "materials out");
}

/* ---- plan ---- */

static void plan_writes_where_it_is_told(void **state)
{
    (void)state;
    static const char *const files[] = {
        "plan.gpkg", "plan.geojson", "plan.json", "materials.csv", "moves.csv",
        "fence.gpx", "ahead.svg",    "card.pdf",  "sheet.pdf"};
    char path[60];
    for (size_t i = 0; i < 9; i++) {
        snprintf(path, sizeof path, "out/%s", files[i]);
        assert_true(exists(path));
    }
    ends(&cli_plan_command, "plan farm.yaml", 0, "\nFIRST MOVE, Mon 17 May",
         "foldwright: nothing was written; -o out/ writes the files\n");
    ends(&cli_plan_command, "plan farm.yaml -o o4", 0, "\nFIRST MOVE, ",
         "foldwright: the plan is in o4\n");
    ends(&cli_plan_command, "plan farm.yaml -o o4 --quiet", 0, "\nMind     ",
         "");
    ends(&cli_plan_command, "plan farm.yaml --quiet --all", 0,
         "\nCautions in short", "");
    put_text("o4/plan.json", "{}");
    ends(&cli_plan_command, "plan farm.yaml -o o4", 4, "", "o4");
    ends(&cli_plan_command, "plan farm.yaml -o o4 --force --quiet", 0, NULL,
         "");
    ends(&cli_plan_command, "plan farm.yaml -o farm.yaml", 4, "", "farm.yaml");
    ends(&cli_plan_command, "plan", 2, "", "name a farm file or a field file");
    ends(&cli_plan_command, "plan farm.yaml --format gpx", 2, "",
         "--format: \"gpx\" is none of svg, png, data; one file goes to -o -");
    ends(&cli_plan_command, "plan farm.yaml -o - --format data", 2, "",
         "--format: \"data\" is none of geojson, json, gpkg, gpx, moves, ");
    ends(&cli_plan_command, "plan nowhere.yaml", 3, "", "nowhere.yaml");
    ends(&cli_plan_command, "plan out --head 9", 2, "",
         "--head changes the plan: name the farm file in place of \"out\"");
    ends(&cli_plan_command, "plan farm.yaml out --head 9", 2, "",
         "in place of \"out\"");
}

static void one_file_goes_to_standard_output(void **state)
{
    (void)state;
    static const struct {
        const char *format, *begins, *file;
    } rows[] = {
        {"geojson", "{\"type\": \"FeatureCollection\"", "plan.geojson"},
        {"gpx", "<?xml version", "fence.gpx"},
        {"moves", "date,field,from,to,", "moves.csv"},
        {"materials", "item,ware,unit,quantity,", "materials.csv"},
        {"gpkg", "SQLite format 3", "plan.gpkg"},
        {"card", "%PDF-", "card.pdf"},
        {"sheet", "%PDF-", "sheet.pdf"},
        {"json", "{", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char words[100], path[60];
        snprintf(words, sizeof words, "plan farm.yaml --quiet -o - --format %s",
                 rows[i].format);
        struct ran ran = run(&cli_plan_command, words);
        assert_int_equal(ran.code, 0);
        assert_string_equal(ran.err, "");
        assert_memory_equal(ran.out, rows[i].begins, strlen(rows[i].begins));
        if (rows[i].file) { /* the same bytes as in the folder */
            snprintf(path, sizeof path, "out/%s", rows[i].file);
            char *file = whole_file(path);
            struct stat one, other;
            assert_int_equal(stat(path, &one) + stat("said-out", &other), 0);
            assert_int_equal(one.st_size, other.st_size);
            assert_memory_equal(file, ran.out, (size_t)one.st_size);
            free(file);
        }
        ran_free(&ran);
    }
    struct ran ran = run(&cli_plan_command, "plan farm.yaml -o -");
    assert_memory_equal(ran.out, "{\"type\": \"FeatureCollection\"", 28);
    has_words(ran.err, "\nFIRST MOVE, ");
    has_not(ran.err, "\033");
    ran_free(&ran);
    ran = run(&cli_plan_command, "plan farm.yaml --json -o - --format moves");
    assert_memory_equal(ran.out, "date,field", 10);
    has_words(ran.err, "\nFIRST MOVE, ");
    ran_free(&ran);
    ran = run(&cli_plan_command, "plan farm.yaml --json");
    assert_string_equal(ran.err, "");
    struct json_object *root = parsed(ran.out);
    assert_true(json_object_is_type(root, json_type_object));
    json_object_put(root);
    ran_free(&ran);
    ends(&cli_plan_command, "plan farm.yaml -o - --format gpkg --out-crs x", 3,
         "", NULL);
}

static bool has_bytes(const char *path, const char *words)
{
    struct stat info;
    assert_int_equal(stat(path, &info), 0);
    char *bytes = whole_file(path);
    bool found = false;
    for (long i = 0; i + (long)strlen(words) <= (long)info.st_size; i++)
        found |= !memcmp(bytes + i, words, strlen(words));
    free(bytes);
    return found;
}

/* The time that is told, in the folder and on standard output; else the plan's
 * first day. */
static void a_geopackage_has_its_time(void **state)
{
    (void)state;
    static const struct {
        const char *epoch, *stamp;
    } rows[] = {{"1810000000", "2027-05-11T01:46:40"},
                {"0", "1970-01-01T00:00:00"},
                {"", "2027-05-17T00:00:00"}};
    for (size_t i = 0; i < 3; i++) {
        setenv("SOURCE_DATE_EPOCH", rows[i].epoch, 1);
        ends(&cli_plan_command,
             "plan farm.yaml --quiet -o - --format gpkg --out-crs EPSG:25832",
             0, "SQLite format 3", "");
        assert_true(has_bytes("said-out", rows[i].stamp));
        ends(&cli_plan_command, "plan farm.yaml --quiet -o stamped", 0, NULL,
             "");
        assert_true(has_bytes("stamped/plan.gpkg", rows[i].stamp));
        unsetenv("SOURCE_DATE_EPOCH");
    }
}

/* ---- check, compare ---- */

static void check_says_and_draws(void **state)
{
    (void)state;
    ends(&cli_check, "check field.geojson", 0, "\n1 field, 0.8 ha\n", NULL);
    ends(&cli_check, "check farm.yaml", 0, "  gate at corner:1\n", NULL);
    ends(&cli_check, "check field.geojson --json", 0, "\"area_ha\": 0.80",
         NULL);
    ends(&cli_check, "check field.geojson --quiet -o drawn", 0,
         "  (north is up)\n", "");
    char *svg = whole_file("drawn/field.svg");
    assert_memory_equal(svg, FW_REPORT_SVG_BEGIN, strlen(FW_REPORT_SVG_BEGIN));
    has_words(svg, "</svg>\n");
    free(svg);
    ends(&cli_check, "check field.geojson --quiet -o drawn", 0, NULL, "");
    put_text("drawn/field.svg", "somebody's");
    ends(&cli_check, "check field.geojson -o drawn", 4, "", "field.svg");
    ends(&cli_check, "check field.geojson --quiet -o drawn --force", 0, NULL,
         "");
    ends(&cli_check, "check field.geojson -o field.geojson", 4, "", NULL);
    ends(&cli_check, "check", 2, "", "name a farm file or a field file");
    ends(&cli_check, "check nowhere.geojson", 3, "", "nowhere.geojson");
}

static void check_counts_what_is_bad(void **state)
{
    (void)state;
    static const char bow[] =
        FEATURE("Bow", POLYGON("[[9.01,51.0],[9.011,51.001],[9.011,51.0],"
                               "[9.01,51.001],[9.01,51.0]]"));
    char text[2000];
    snprintf(text, sizeof text, COLLECTION("%s,%s"),
             FEATURE("Long Bottom", POLYGON(FIELD_RING)), bow);
    put_text("bad.geojson", text);
    ends(&cli_check, "check bad.geojson --quiet", 3, "\n1 field, 0.8 ha\n",
         "foldwright: 1 feature cannot be used, as said above\n");
    ends(&cli_check, "check bad.geojson --quiet", 3, NULL, "Bow");
    snprintf(text, sizeof text, COLLECTION("%s,%s,%s"),
             FEATURE("Long Bottom", POLYGON(FIELD_RING)), bow, bow);
    put_text("bad.geojson", text);
    ends(&cli_check, "check bad.geojson", 3, "\n1 field, 0.8 ha\n",
         "foldwright: 2 features cannot be used, as said above\n");
}

static void compare_sets_side_by_side(void **state)
{
    (void)state;
    ends(&cli_compare, "compare farm.yaml --quiet", 0, "\nLong Bottom: ", "");
    ends(&cli_compare, "compare farm.yaml --quiet --json", 0,
         "\"candidates\": [", "");
    ends(&cli_compare, "compare", 2, "", "name a farm file or a field file");
    ends(&cli_compare, "compare nowhere.yaml", 3, "", "nowhere.yaml");
    ends(&cli_compare, "compare farm.yaml --layout nothing", 3, "",
         "there is no pattern \"nothing\"");
}

/* ---- materials, move, cautions, sources ---- */

static void materials_are_of_a_plan_or_a_bare_field(void **state)
{
    (void)state;
    ends(&cli_materials, "materials out", 0, "together", NULL);
    ends(&cli_materials, "materials out/plan.json --json", 0,
         "\"currency\": \"EUR\"", NULL);
    struct ran kit = run(&cli_materials, "materials farm.yaml --quiet");
    struct ran same = run(&cli_materials, "materials out");
    assert_string_equal(kit.out, same.out);
    ran_free(&same);
    /* Round the fields: other things, and more. */
    same = run(&cli_materials, "materials farm.yaml --quiet --perimeter");
    assert_int_equal(same.code, 0);
    assert_string_not_equal(kit.out, same.out);
    ran_free(&kit);
    kit = run(&cli_materials, "materials field.geojson --quiet");
    has_words(kit.out, "post");
    has_words(same.out, "post");
    ran_free(&kit);
    ran_free(&same);
    kit = run(&cli_materials,
              "materials field.geojson --quiet --head 40 --weight 70kg --class "
              "dry --mass 2600kg/ha --residual 1400kg/ha --start 2027-05-17");
    assert_int_equal(kit.code, 0);
    same =
        run(&cli_materials, "materials field.geojson --quiet --wire-price 1");
    assert_string_not_equal(kit.out, same.out);
    has_not(same.out, "energizer"); /* a fence, and no plan */
    ran_free(&kit);
    ran_free(&same);
    ends(&cli_materials, "materials field.geojson --json --quiet", 0,
         "\"currency\": null", "");
    ends(&cli_materials, "materials", 2, "",
         "name a plan, a farm file or a field file");
    ends(&cli_materials, "materials out --perimeter", 2, "",
         "--perimeter wants the farm file or the field file, not the plan");
    ends(&cli_materials, "materials nowhere.geojson", 3, "", "nowhere");
    ends(&cli_materials, "materials nowhere.yaml", 3, "", "nowhere");
    ends(&cli_materials, "materials out --head 9", 2, "", "--head changes");
}

static void a_card_is_of_its_day(void **state)
{
    (void)state;
    ends(&cli_move, "move out --on 2027-05-18", 0, "\nTue 18 May 2027: into ",
         "");
    ends(&cli_move, "move out --on 2027-05-18 --json", 0,
         "\"date\": \"2027-05-18\"", "");
    ends(&cli_move, "move out --on 2027-05-48", 3, "", "2027-05-48");
    ends(&cli_move, "move out --on 2029-01-01", 1, "", "2029-01-01");
    ends(&cli_move, "move", 2, "", "name the folder that plan wrote");
    ends(&cli_move, "move nowhere", 3, "", "nowhere");
    /* Today, or the next one. */
    setenv("SOURCE_DATE_EPOCH", "1810684799", 1); /* 2027-05-18T23:59:59 */
    ends(&cli_move, "move out", 0, "\nTue 18 May 2027: into ", "");
    setenv("SOURCE_DATE_EPOCH", "1810684800", 1);
    ends(&cli_move, "move out", 0, "\nWed 19 May 2027: into ", "");
    setenv("SOURCE_DATE_EPOCH", "0", 1);
    ends(&cli_move, "move out", 0, "\nMon 17 May 2027: into ", "");
    setenv("SOURCE_DATE_EPOCH", "7289654399", 1);
    ends(&cli_move, "move out", 1, "", "2200-12-31");
    unsetenv("SOURCE_DATE_EPOCH");
    /* Without it the day is that of the clock here. */
    const time_t now = time(NULL);
    char day[20], words[100], wanted[60];
    strftime(day, sizeof day, "%Y-%m-%d", localtime(&now));
    snprintf(words, sizeof words, "plan farm.yaml --quiet --start %s -o today",
             day);
    ends(&cli_plan_command, words, 0, NULL, "");
    snprintf(wanted, sizeof wanted, "\"date\": \"%s\"", day);
    ends(&cli_move, "move today --json", 0, wanted, "");
}

static void cautions_are_of_a_plan_or_all(void **state)
{
    (void)state;
    ends(&cli_cautions, "cautions out", 0, "CAUTIONS for Test\n", NULL);
    ends(&cli_cautions, "cautions farm.yaml --quiet", 0, "CAUTIONS for Test\n",
         "");
    ends(&cli_cautions, "cautions", 0, "CAUTIONS\n", "");
    ends(&cli_cautions, "cautions --json", 0, "[\n  {\"id\": ", "");
    ends(&cli_cautions, "cautions out --json --quiet", 0, "\"tried\": ", "");
    ends(&cli_cautions, "cautions nowhere.yaml", 3, "", "nowhere");
    ends(&cli_cautions, "cautions --bogus", 2, "", "--bogus");
}

static void sources_are_found_by_words(void **state)
{
    (void)state;
    ends(&cli_sources, "sources pace", 0, "FIGURES: ", "");
    ends(&cli_sources, "sources pace --json", 0, "[\n  {\"name\": ", "");
    ends(&cli_sources, "sources xyzzy", 3, "", "no figure has \"xyzzy\"");
    ends(&cli_sources, "sources xyzzy --json", 3, "", "no figure has");
    ends(&cli_sources, "sources --bogus", 2, "", "--bogus");
}

/* ---- power ---- */

static double said_after(const char *text, const char *words)
{
    has_words(text, words);
    return strtod(strstr(text, words) + strlen(words), NULL);
}

static void a_run_of_fence_is_reckoned(void **state)
{
    (void)state;
    const struct fw_circuit_run run_of = {.length_m = 400,
                                          .ohm_m = 3.82,
                                          .leakage_ohm_km = 1000,
                                          .open_v = 8000,
                                          .internal_ohm = 300,
                                          .earth_ohm = 20,
                                          .body_ohm = 250};
    struct fw_circuit_run_volts volts;
    assert_int_equal(fw_circuit_run(&run_of, &volts, NULL), FW_OK);
    struct ran ran = run(&cli_power, "power --json --body 250ohm" LINE_OPTIONS);
    assert_int_equal(ran.code, 0);
    struct json_object *root = parsed(ran.out);
    is_number(root, "run_m", 400);
    is_number(root, "open_v", volts.far.open_v);
    is_number(root, "touched_v", volts.far.touched_v);
    is_number(root, "rods_v", volts.rods_v);
    const struct fw_power_wanted wool = fw_power_wanted_volts(true, false);
    is_number(root, "wanted_open_v", wool.open_v);
    is_number(root, "wanted_touched_v", wool.touched_v);
    json_object_put(root);
    ran_free(&ran);
    ends(&cli_power, "power" LINE_OPTIONS, 0, "\nWanted on this run of 400 m",
         "");
    ends(&cli_power,
         "power --earth 0ohm --run 1m --conductor 1ohm/m --leakage "
         "clean --open 1V --internal 1ohm",
         0, "1 m", "");
}

static void what_a_run_lacks_is_told(void **state)
{
    (void)state;
    ends(&cli_power, "power", 2, "",
         "missing: --run (such as 400m), --conductor (such as 3.82ohm/m), "
         "--leakage (such as 1000ohm.km), --open (such as 8kV), --internal "
         "(such as 300ohm), --earth (such as 20ohm)\n");
    ends(&cli_power,
         "power --run 1m --open 1kV --earth 1ohm --leakage clean "
         "--internal 1ohm",
         2, "", "missing: --conductor (such as 3.82ohm/m)\n");
    static const char only[] = " means something for a plan only: name the "
                               "plan or the farm file";
    char says[200];
    static const struct {
        const char *option, *name;
    } rows[] = {{"--fault rain", "--fault"},
                {"--measured 1kV@x", "--measured"},
                {"--on 2027-05-17", "--on"},
                {"--head 9", "--head"}};
    for (size_t i = 0; i < 4; i++) {
        char words[400];
        snprintf(words, sizeof words, "power %s" LINE_OPTIONS, rows[i].option);
        snprintf(says, sizeof says, "foldwright: %s%s", rows[i].name, only);
        ends(&cli_power, words, 2, "", says);
    }
    ends(&cli_power, "power --fault rain --measured 1kV@x --on 2027-05-17", 2,
         "", "foldwright: --fault means");
    ends(&cli_power, "power --measured 1kV@x --on 2027-05-17 --head 9", 2, "",
         "foldwright: --measured means");
    ends(&cli_power, "power --on 2027-05-17 --head 9", 2, "",
         "foldwright: --on means");
}

/* Each option names itself where its value is none, and where it is 0. */
static void values_of_a_run_are_checked(void **state)
{
    (void)state;
    static const char *const options[] = {
        "run", "conductor", "leakage", "open", "internal", "earth", "body"};
    static const char *const zero[] = {"0m",   "0ohm/m", "0ohm.km", "0V",
                                       "0ohm", NULL,     "0ohm"};
    for (size_t i = 0; i < 7; i++) {
        char words[500], says[40];
        snprintf(says, sizeof says, "foldwright: --%s: ", options[i]);
        snprintf(words, sizeof words, "power" LINE_OPTIONS " --%s bogus",
                 options[i]);
        ends(&cli_power, words, 3, "", says);
        snprintf(words, sizeof words, "power" LINE_OPTIONS " --%s %s",
                 options[i], zero[i] ? zero[i] : "-1ohm");
        ends(&cli_power, words, 3, "", says);
    }
    ends(&cli_power, "power" LINE_OPTIONS " --open 0V", 3, "",
         "foldwright: --open: \"0V\": expected over 0\n");
}

static void a_plan_has_its_volts(void **state)
{
    (void)state;
    ends(&cli_power, "power out", 0, "\nEnergizer  ", NULL);
    ends(&cli_power, "power out --json --quiet", 0, "\"energizer\": {", "");
    ends(&cli_power, "power farm.yaml --quiet --json --earth 33ohm", 0,
         "\"ohm\": 33,", "");
    ends(&cli_power,
         "power farm.yaml --quiet --json --open 9kV --internal 250ohm", 0,
         "\"open_v\": 9000, \"internal_ohm\": 250,", "");
    ends(&cli_power, "power farm.yaml --run 4m", 2, "",
         "--run is for one run of fence without a map; leave it out, or leave "
         "\"farm.yaml\" out\n");
    ends(&cli_power, "power farm.yaml --body 4ohm", 2, "", "--body is for one");
    ends(&cli_power, "power farm.yaml --leakage bogus", 3, "", "--leakage");
    ends(&cli_power, "power farm.yaml --conductor bogus", 3, "", "--conductor");
    ends(&cli_power, "power out --earth 3ohm", 2, "", "--earth changes the");
    ends(&cli_power, "power nowhere", 3, "", "nowhere");
}

/* The fence that is set first. */
static const char *first_fence(void)
{
    static char id[40];
    char *text = whole_file("out/moves.csv");
    const char *row = strchr(text, '\n') + 1;
    for (int i = 0; i < 7; i++)
        row = strchr(row, ',') + 1;
    snprintf(id, sizeof id, "%.*s", (int)strcspn(row, ",;"), row);
    free(text);
    return id;
}

static void a_fault_is_looked_for(void **state)
{
    (void)state;
    char words[200], says[100];
    const char *id = first_fence();
    snprintf(words, sizeof words,
             "power out --quiet --on 2027-05-18 --fault broken:%s@20m", id);
    snprintf(says, sizeof says, "Tue 18 May 2027, broken:%s@20m:\nwhat", id);
    ends(&cli_power, words, 0, says, "");
    strcat(words, " --json");
    ends(&cli_power, words, 0, "\"fault\": \"broken:", "");
    ends(&cli_power, "power out --fault rain", 0, "Wet grass lowers", NULL);
    ends(&cli_power, "power out --fault bogus", 3, "", "foldwright: --fault: ");
    ends(&cli_power, "power out --fault rain --on 2029-01-01", 3, "", NULL);
    ends(&cli_power, "power out --on bogus", 3, "", "bogus");
    /* The worst day where none is named: that of its page. */
    struct fw_plan *plan;
    assert_int_equal(fw_plan_json_read("out", &plan, NULL, NULL), FW_OK);
    const size_t worst = fw_plan_worst_day(plan);
    char day[FW_DATE_TEXT];
    snprintf(says, sizeof says, "\"date\": \"%s\"",
             fw_date_write(plan->power_days[worst].from, day));
    fw_plan_free(plan);
    ends(&cli_power, "power out --fault rain --json --quiet", 0, says, "");
}

static void readings_teach(void **state)
{
    (void)state;
    ends(&cli_power, "power out --on 2027-05-18 --measured 3kV@corner:1", 0,
         "\nReadings   the fence leaks ", NULL);
    ends(&cli_power,
         "power out --on 2027-05-18 --measured 3kV@corner:1 --json --quiet", 0,
         "\"leakage_factor\": ", "");
    ends(&cli_power, "power out --on 2027-05-18 --measured bogus", 3, "",
         "foldwright: --measured: ");
    ends(&cli_power,
         "power out --on 2027-05-18 --measured 3kV@corner:1 --measured 1kV@no",
         3, "", "foldwright: --measured: ");
    ends(&cli_power, "power out --on 2027-05-18 --measured 99kV@corner:1", 3,
         "", NULL);
    /* What was learned goes into the readings of a fault: wet grass on a fence
     * that leaks more shows less than on one that leaks less. */
    struct ran more =
        run(&cli_power, "power out --on 2027-05-18 --quiet --json "
                        "--measured 2kV@corner:1 --fault rain");
    struct ran less =
        run(&cli_power, "power out --on 2027-05-18 --quiet --json "
                        "--measured 6kV@corner:1 --fault rain");
    assert_int_equal(more.code + less.code, 0);
    const double low = said_after(more.out, "\"sound_v\": [");
    const double high = said_after(less.out, "\"sound_v\": [");
    assert_true(low < high);
    ran_free(&more);
    ran_free(&less);
}

/* ---- the program ---- */

static struct ran start(const char *words, const char *out)
{
    char line[1000], *argv[40];
    struct ran ran;
    snprintf(line, sizeof line, "%s %s", program, words);
    split_words(line, argv);
    const struct caught caught = catch_streams(out);
    const pid_t child = fork();
    if (child == 0) {
        execv(program, argv);
        _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    let_streams_go(caught);
    ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
    ran.out = whole_file("said-out");
    ran.err = whole_file("said-err");
    return ran;
}

static void program_ends(const char *words, int code, const char *out,
                         const char *err)
{
    struct ran ran = start(words, "said-out");
    assert_int_equal(ran.code, code);
    has_words(ran.out, out);
    has_words(ran.err, err);
    assert_true(out[0] || !ran.out[0]);
    assert_true(err[0] || !ran.err[0]);
    ran_free(&ran);
}

static void the_program_finds_its_commands(void **state)
{
    (void)state;
    static const char all[] =
        "\n  check      read everything; say what is there, what is missing, "
        "what is wrong\n  plan       choose a layout and write the whole "
        "plan\n  compare    ";
    program_ends("", 2, all, "");
    program_ends("--help", 0, all, "");
    program_ends("help", 0, "\n  sources    every figure", "");
    program_ends("--version", 0, "foldwright 0.1.0\n", "");
    program_ends("chexk", 2, "",
                 "foldwright: \"chexk\" is not a command; did you mean "
                 "check?\n");
    program_ends("xyzzyxyzzy", 2, "",
                 "foldwright: \"xyzzyxyzzy\" is not a command; foldwright "
                 "--help lists them\n");
    program_ends("sources xyzzy", 3, "", "no figure has \"xyzzy\"");
    program_ends("sources pace", 0, "FIGURES: ", "");
}

/* Nobody reads what it prints, so that it waits; then it is told to stop. */
static void the_program_dies_of_its_signal(void **state)
{
    (void)state;
    static const int signals[] = {SIGINT, SIGTERM, SIGHUP};
    for (size_t i = 0; i < 3; i++) {
        char words[] = "foldwright sources --json", *argv[40], first;
        int ends_of[2], status = 0;
        assert_int_equal(pipe(ends_of), 0);
        split_words(words, argv);
        const pid_t child = fork();
        if (child == 0) {
            dup2(ends_of[1], STDOUT_FILENO);
            close(ends_of[0]);
            execv(program, argv);
            _exit(127);
        }
        close(ends_of[1]);
        /* It has more to say than a pipe holds. */
        assert_int_equal(read(ends_of[0], &first, 1), 1);
        kill(child, signals[i]);
        waitpid(child, &status, 0);
        close(ends_of[0]);
        assert_true(WIFSIGNALED(status));
        assert_int_equal(WTERMSIG(status), signals[i]);
    }
}

static void the_program_tells_a_full_disk(void **state)
{
    (void)state;
    struct ran ran = start("--help", "/dev/full");
    assert_int_equal(ran.code, 4);
    has_words(ran.err, "foldwright: standard output: No space left on device");
    ran_free(&ran);
    ran = start("", "/dev/full"); /* what was wrong before goes first */
    assert_int_equal(ran.code, 2);
    assert_string_equal(ran.err, "");
    ran_free(&ran);
}

int main(int argc, char **argv)
{
    if (argc < 2) {
        fputs("test_cli_commands FOLDWRIGHT\n", stderr);
        return 2;
    }
    program =
        realpath(argv[1], NULL); /* the tests have a folder of their own */
    if (!program) {
        perror(argv[1]);
        return 2;
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(options_are_read_in_every_form),
        cmocka_unit_test(options_of_sums_are_read),
        cmocka_unit_test(what_is_no_option_is_refused),
        cmocka_unit_test(no_command_runs_on_a_wrong_line),
        cmocka_unit_test(help_has_every_option_once),
        cmocka_unit_test(each_status_has_its_code),
        cmocka_unit_test(notes_are_lines),
        cmocka_unit_test(a_told_time_is_seconds),
        cmocka_unit_test(colours_are_for_terminals),
        cmocka_unit_test(who_waits_at_a_terminal_is_told),
        cmocka_unit_test(time_left_is_told),
        cmocka_unit_test(no_alarm_is_left),
        cmocka_unit_test(notes_are_told_unless_quiet),
        cmocka_unit_test(a_full_disk_is_told),
        cmocka_unit_test(plan_writes_where_it_is_told),
        cmocka_unit_test(one_file_goes_to_standard_output),
        cmocka_unit_test(a_geopackage_has_its_time),
        cmocka_unit_test(check_says_and_draws),
        cmocka_unit_test(check_counts_what_is_bad),
        cmocka_unit_test(compare_sets_side_by_side),
        cmocka_unit_test(materials_are_of_a_plan_or_a_bare_field),
        cmocka_unit_test(a_card_is_of_its_day),
        cmocka_unit_test(cautions_are_of_a_plan_or_all),
        cmocka_unit_test(sources_are_found_by_words),
        cmocka_unit_test(a_run_of_fence_is_reckoned),
        cmocka_unit_test(what_a_run_lacks_is_told),
        cmocka_unit_test(values_of_a_run_are_checked),
        cmocka_unit_test(a_plan_has_its_volts),
        cmocka_unit_test(a_fault_is_looked_for),
        cmocka_unit_test(readings_teach),
        cmocka_unit_test(the_program_finds_its_commands),
        cmocka_unit_test(the_program_dies_of_its_signal),
        cmocka_unit_test(the_program_tells_a_full_disk),
    };
    return cmocka_run_group_tests_name("cli_commands", tests, set_up,
                                       farm_tear_down);
}
