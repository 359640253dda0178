/* Many days at once: the paper card copied into a table. */
#include "log/log.h"

#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "figures/mark.h"
#include "io/io.h"

#include <stdio.h>
#include <string.h>

enum {
    most_columns = FW_EFFORT(64),
    date_column = FW_LOG_PARTS,
    correct_column
};

struct table {
    const char *path;
    struct fw_quantities *quantities;
    enum fw_units units;
    char between; /* columns: a comma, a semicolon or a tab */
    int columns[most_columns];
    size_t column_count;
    size_t row;
};

/* One cell in place, its quotes taken off; *at moves past it, and past what
 * follows it. *last: it ends its row. */
static char *next_cell(char **at, char between, bool *last)
{
    char *cell = *at, *to = *at, *from = *at;
    bool quoted = false;
    for (; *from; from++) {
        if (*from == '"' && quoted && from[1] == '"')
            *to++ = *from++;
        else if (*from == '"')
            quoted = !quoted;
        else if (!quoted && (*from == between || *from == '\n'))
            break;
        else
            *to++ = *from == '\n' || *from == '\r' ? ' ' : *from;
    }
    *last = *from != between;
    *at = *from ? from + 1 : from;
    *to = '\0';
    return cell;
}

static enum fw_status take_column(struct table *table, const char *cell,
                                  struct fw_error *err)
{
    char name[64];
    fw_text_trim(cell, strlen(cell), name, sizeof name);
    const enum fw_log_part part = fw_log_part_named(name, strlen(name));
    int column = (int)part;
    if (part == FW_LOG_PARTS && strcmp(name, "date") == 0)
        column = date_column;
    else if (part == FW_LOG_PARTS && strcmp(name, "correct") == 0)
        column = correct_column;
    else if (part == FW_LOG_PARTS)
        return fw_fail(err, FW_EINPUT,
                       "%s: column \"%s\" is no part of a day; the first row "
                       "names them, such as date,left,bellies,note",
                       table->path, name);
    if (table->column_count == most_columns)
        return fw_fail(err, FW_EINPUT, "%s: over %d columns", table->path,
                       most_columns);
    table->columns[table->column_count++] = column;
    return FW_OK;
}

static enum fw_status take_names(struct table *table, char **at,
                                 struct fw_error *err)
{
    const size_t line = strcspn(*at, "\n");
    table->between = memchr(*at, ';', line)    ? ';'
                     : memchr(*at, '\t', line) ? '\t'
                                               : ',';
    enum fw_status status = FW_OK;
    for (bool last = false; !last && !status;)
        status = take_column(table, next_cell(at, table->between, &last), err);
    return status;
}

static enum fw_status take_cell(const struct table *table, int column,
                                char *cell, struct fw_log_line *line,
                                struct fw_error *err)
{
    char date[32];
    const char *text = cell + strspn(cell, " \t");
    if (!*text)
        return FW_OK;
    if (column == date_column)
        return fw_date_read(fw_text_trim(text, strlen(text), date, sizeof date),
                            &line->day, err);
    if (column == correct_column) {
        line->kind = FW_LOG_CORRECT;
        return FW_OK;
    }
    return fw_log_value_read(table->quantities, (enum fw_log_part)column, text,
                             table->units, &line->values[column], err);
}

static enum fw_status take_row(struct table *table, char **at,
                               struct fw_log_lines *out, struct fw_error *err)
{
    struct fw_log_line line = {.day = FW_NO_DAY, .number = ++table->row};
    enum fw_status status = FW_OK;
    bool empty = true;
    size_t column = 0;
    for (bool last = false; !last && !status; column++) {
        char *cell = next_cell(at, table->between, &last);
        empty = empty && !cell[strspn(cell, " \t")];
        if (column < table->column_count)
            status = take_cell(table, table->columns[column], cell, &line, err);
        else if (cell[strspn(cell, " \t")])
            status = fw_fail(err, FW_EINPUT,
                             "more cells than the first row has names; a "
                             "comma within a cell needs quotes round it: "
                             "\"14,11\"");
    }
    if (status)
        return fw_fail_where(err, "%s:%zu: ", table->path, table->row);
    return empty ? FW_OK : fw_log_lines_add(out, &line, err);
}

enum fw_status fw_log_csv_read(const char *path, enum fw_units units,
                               struct fw_log_lines *out, struct fw_error *err)
{
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t most_bytes = FW_BOUND(4194304);
    struct table table = {.path = path, .units = units, .row = 1};
    struct fw_log_lines lines = {0};
    char *bytes = NULL;
    size_t count;
    enum fw_status status = fw_file_get(path, most_bytes, &bytes, &count, err);
    if (status)
        return status;
    char *at =
        strncmp(bytes, mark, sizeof mark - 1) ? bytes : bytes + sizeof mark - 1;
    status = fw_quantities_new(&table.quantities, err);
    if (!status)
        status = take_names(&table, &at, err);
    while (!status && *at)
        status = take_row(&table, &at, &lines, err);
    if (!status && lines.count == 0)
        status = fw_fail(err, FW_EINPUT, "%s: there is no day in it", path);
    fw_quantities_free(table.quantities);
    fw_bytes_free(bytes);
    if (status)
        fw_log_lines_release(&lines);
    else
        *out = lines;
    return status;
}
