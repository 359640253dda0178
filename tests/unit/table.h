/* Tables of worked cases for the tests: tests/tables/NAME.tsv, found by the
 * environment variable FW_TABLES.
 *
 * A line is cells with tabs between them; a cell may be empty. Lines that
 * start with # and lines without anything are passed over.
 *
 *     struct table table;
 *     table_open(&table, "demand.tsv");
 *     while (table_next(&table, 4))
 *         assert_near(demand(table_number(&table, 0)), ...);
 *     table_close(&table);
 *
 * Whatever is wrong with the table fails the test, with its line; the table
 * is closed then by the end of the program. */
#ifndef FW_TABLE_H
#define FW_TABLE_H

#include "test.h"
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { table_most_cells = 32 };

struct table {
    const char *name;
    FILE *file;
    int line;
    int rows;     /* read so far */
    size_t count; /* cells of the row that was read last */
    char *cells[table_most_cells];
    char text[4096];
};

static inline void table_open(struct table *table, const char *name)
{
    *table = (struct table){.name = name};
    const char *folder = getenv("FW_TABLES");
    if (!folder)
        fail_msg("FW_TABLES is not set; expected the folder tests/tables");
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", folder ? folder : "", name);
    table->file = fopen(path, "r");
    if (!table->file)
        fail_msg("%s cannot be read", path);
}

static inline void table_split(struct table *table)
{
    table->count = 0;
    for (char *cell = table->text; cell;) {
        if (table->count == table_most_cells)
            fail_msg("%s:%d: over %d cells", table->name, table->line,
                     (int)table_most_cells);
        table->cells[table->count++] = cell;
        cell = strchr(cell, '\t');
        if (cell)
            *cell++ = '\0';
    }
}

/* The next row, which must have that many cells; false at the end. */
static inline bool table_next(struct table *table, size_t cells)
{
    while (fgets(table->text, sizeof table->text, table->file)) {
        table->line++;
        const size_t length = strcspn(table->text, "\r\n");
        if (length + 1 == sizeof table->text)
            fail_msg("%s:%d: too long a line", table->name, table->line);
        table->text[length] = '\0';
        if (length == 0 || table->text[0] == '#')
            continue;
        table_split(table);
        if (table->count != cells)
            fail_msg("%s:%d: %zu cells; expected %zu", table->name, table->line,
                     table->count, cells);
        table->rows++;
        return true;
    }
    return false;
}

static inline double table_number(const struct table *table, size_t cell)
{
    char *end;
    const double number = strtod(table->cells[cell], &end);
    if (end == table->cells[cell] || *end)
        fail_msg("%s:%d: \"%s\" is not a number", table->name, table->line,
                 table->cells[cell]);
    return number;
}

/* An empty table tests nothing, which is a fault as well. */
static inline void table_close(struct table *table)
{
    fclose(table->file);
    table->file = NULL;
    if (table->rows == 0)
        fail_msg("%s has no rows", table->name);
}

#endif
