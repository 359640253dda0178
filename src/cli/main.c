/* foldwright: the table of commands, and what a signal leaves behind. */
#include "cli/cli.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const struct cli_command *const commands[] = {
    &cli_start,     &cli_check,    &cli_plan_command, &cli_compare,
    &cli_materials, &cli_move,     &cli_record,       &cli_water,
    &cli_power,     &cli_cautions, &cli_sources,      &cli_stockpile,
};
static const size_t command_count = sizeof commands / sizeof commands[0];

static void print_help(void)
{
    puts("foldwright: paddocks, moved fence, water and power for a flock on "
         "temporary\nelectric fence\n\n"
         "  foldwright COMMAND [options] FARM.yaml | FIELDS...\n");
    for (size_t i = 0; i < command_count; i++)
        printf("  %-10s %s\n", commands[i]->name, commands[i]->line);
    puts("\nfoldwright COMMAND --help tells its options. Live fence can hurt: "
         "read\nfoldwright cautions, and keep to local codes and the maker's "
         "instructions.");
}

/* Half-written files go; then the signal does what it always does. */
static void on_signal(int number)
{
    fw_file_abandon();
    signal(number, SIG_DFL);
    raise(number);
}

static void catch_signals(void)
{
    struct sigaction action = {.sa_handler = on_signal};
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, NULL);
    sigaction(SIGTERM, &action, NULL);
    sigaction(SIGHUP, &action, NULL);
}

static int unknown(const char *word)
{
    const char *names[sizeof commands / sizeof commands[0]];
    for (size_t i = 0; i < command_count; i++)
        names[i] = commands[i]->name;
    const char *near = fw_text_nearest(word, names, command_count);
    fprintf(stderr, "foldwright: \"%s\" is not a command", word);
    if (near)
        fprintf(stderr, "; did you mean %s?\n", near);
    else
        fputs("; foldwright --help lists them\n", stderr);
    return 2;
}

/* What was printed may still wait for a disk that is full. */
static int flushed(int code)
{
    if ((fflush(stdout) == 0 && !ferror(stdout)) || code)
        return code;
    perror("foldwright: standard output");
    return 4;
}

static int run(int argc, char **argv)
{
    if (argc < 2) {
        print_help();
        return 2;
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "help") == 0) {
        print_help();
        return 0;
    }
    if (strcmp(argv[1], "--version") == 0) {
        printf("foldwright %s\n", fw_version());
        return 0;
    }
    for (size_t i = 0; i < command_count; i++)
        if (strcmp(argv[1], commands[i]->name) == 0)
            return commands[i]->run(argc - 1, argv + 1);
    return unknown(argv[1]);
}

int main(int argc, char **argv)
{
    catch_signals();
    return flushed(run(argc, argv));
}
