/* From what was told of the growth to the rates of a field or a zone: those of
 * a published table, of a file, or as they stand. */
#include "keys/reader.h"

#include "base/text.h"
#include "figures/mark.h"
#include "figures/stockpile.h"

#include <stdio.h>
#include <string.h>

enum { most_bytes = FW_BOUND(1) << 20, cell_room = FW_EFFORT(64) };

/* ---- a file of rates ---- */

struct table {
    struct fw_farm__reader *reader;
    const char *path; /* as told */
    size_t line;
    char unit[cell_room]; /* of the header's second column, for bare numbers */
    struct fw_farm__growth growth;
};

static bool is_bare(const char *text)
{
    return text[strspn(text, "0123456789.-+")] == '\0';
}

/* A line of two columns; the first one of a file may name them, the second by
 * its unit. */
static enum fw_status take_line(struct table *table, const char *line,
                                size_t length, struct fw_error *err)
{
    char when[cell_room], rate[2 * cell_room];
    const char *comma = memchr(line, ',', length);
    table->line++;
    fw_text_trim(line, length, when, sizeof when);
    if (!when[0] || when[0] == '#')
        return FW_OK;
    if (!comma)
        return fw_fail(err, FW_EINPUT,
                       "\"%.40s\" has one column; expected two, such as \"may, "
                       "69 kg/ha/day\"",
                       when);
    const size_t left = (size_t)(comma - line);
    fw_text_trim(line, left, when, sizeof when);
    fw_text_trim(comma + 1, length - left - 1, rate, cell_room);
    if (table->growth.count == 0 &&
        (strcmp(when, "month") == 0 || strcmp(when, "week") == 0)) {
        fw_text_trim(rate, strlen(rate), table->unit, sizeof table->unit);
        return FW_OK;
    }
    if (is_bare(rate) && table->unit[0])
        fw_text_format(rate + strlen(rate), cell_room, " %s", table->unit);
    return fw_farm__add_growth(table->reader, when, rate, &table->growth, err);
}

static enum fw_status take_lines(struct table *table, const char *bytes,
                                 size_t count, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    const char *at = bytes, *end = bytes + count;
    while (!status && at < end) {
        const char *stop = memchr(at, '\n', (size_t)(end - at));
        if (!stop)
            stop = end;
        status = take_line(table, at, (size_t)(stop - at), err);
        at = stop + 1;
    }
    if (status)
        return fw_fail_where(err, "%s:%zu: ", table->path, table->line);
    if (table->growth.count == 0)
        return fw_fail(err, FW_EINPUT,
                       "%s: has no rate in it; expected lines such as \"may, "
                       "69 kg/ha/day\"",
                       table->path);
    return FW_OK;
}

static enum fw_status read_file(struct fw_farm__reader *reader,
                                const struct fw_farm__growth *told,
                                struct fw_growth *out, struct fw_error *err)
{
    struct table table = {.reader = reader, .path = told->text.text};
    const char *path;
    char *bytes;
    size_t count;
    enum fw_status status = fw_farm__source(reader, &told->text, &path, err);
    if (!status)
        status = fw_file_get(path, most_bytes, &bytes, &count, err);
    if (status)
        return status;
    status = fw_inputs_add(&reader->farm->inputs, path, err);
    if (!status)
        status = take_lines(&table, bytes, count, err);
    fw_bytes_free(bytes);
    if (status)
        return status;
    memcpy(out->rates, table.growth.rates, sizeof out->rates);
    out->count = table.growth.count;
    return FW_OK;
}

/* ---- all ways ---- */

/* Fields and zones that share a table are told of it once. */
static bool is_told(const struct fw_notes *notes, const char *word)
{
    for (size_t i = 0; notes && i < notes->count; i++)
        if (strcmp(notes->items[i].where, word) == 0)
            return true;
    return false;
}

static enum fw_status take_table(struct fw_farm__reader *reader,
                                 const struct fw_farm__forage *told,
                                 struct fw_growth *out, struct fw_error *err)
{
    const struct fw_growth_table *table;
    const enum fw_status status =
        fw_growth_find(told->growth.text.text, &table, err);
    if (status)
        return status;
    const struct fw_farm__number *year = &told->growth_year_kg_ha;
    if (year->at.given && !table->shares)
        return fw_fail(err, FW_EINPUT,
                       "growth-year goes with a table of shares of a year; %s "
                       "has rates of its own: leave growth-year out",
                       table->word);
    const double sum =
        fw_growth_take(table, year->at.given ? year->value : 0, out);
    if (!(sum < 1 - FW_TOLERANCE(1e-9)) || is_told(reader->notes, table->word))
        return FW_OK;
    return fw_notes_add(reader->notes, FW_LEVEL_NOTE, table->word, err,
                        "the shares of its months make %.0f %% of a year, as "
                        "printed; they are not scaled",
                        100 * sum);
}

static bool is_file(const char *text)
{
    const size_t length = strlen(text), tail = strlen(".csv");
    return length > tail && strcmp(text + length - tail, ".csv") == 0;
}

static enum fw_status take_rates(struct fw_farm__reader *reader,
                                 const struct fw_farm__forage *told,
                                 struct fw_growth *out, struct fw_error *err)
{
    const struct fw_farm__growth *growth = &told->growth;
    if (!growth->text.text) {
        memcpy(out->rates, growth->rates, sizeof out->rates);
        out->count = growth->count;
        out->steady = growth->steady;
        return FW_OK;
    }
    return is_file(growth->text.text) ? read_file(reader, growth, out, err)
                                      : take_table(reader, told, out, err);
}

static void say(const struct fw_growth *growth,
                const struct fw_farm__growth *told, char text[FW_GROWTH_TEXT])
{
    if (told->text.text && !is_file(told->text.text))
        fw_text_clip(told->text.text, text, FW_GROWTH_TEXT);
    else if (growth->steady)
        text[0] = '\0';
    else
        fw_text_format(text, FW_GROWTH_TEXT, "%zu rates told", growth->count);
}

struct fw_farm_loss fw_farm__loss_range(const struct fw_farm__loss *told)
{
    struct fw_farm_loss range = {FW_STOCK_LOSS_LEAST, FW_STOCK_LOSS_MOST, ""};
    if (told->at.given)
        range.least = range.most = told->share;
    if (told->place) {
        range.least = told->place->least;
        range.most = told->place->most;
        fw_text_clip(told->place->word, range.place, sizeof range.place);
    }
    return range;
}

enum fw_status
fw_farm__make_growth(struct fw_farm__reader *reader, size_t field,
                     const struct fw_farm__forage *told, struct fw_growth *out,
                     char text[FW_GROWTH_TEXT], struct fw_error *err)
{
    const struct fw_field *shape = reader->farm->fields[field].shape;
    *out = (struct fw_growth){
        .shape = told->growth_shape.at.given
                     ? (enum fw_growth_shape)told->growth_shape.value
                     : FW_GROWTH_LOGISTIC,
        .ceiling_kg_ha =
            told->ceiling_kg_ha.at.given ? told->ceiling_kg_ha.value : 0,
        .winter_loss = told->winter_loss.at.given ? told->winter_loss.share : 0,
        .lat_deg = shape->vertices[0].lonlat.lat_deg,
    };
    text[0] = '\0';
    enum fw_status status = FW_OK;
    if (told->growth.text.at.given) {
        status = take_rates(reader, told, out, err);
        if (!status)
            status = fw_growth_check(out, err);
        if (!status)
            say(out, &told->growth, text);
    }
    if (status)
        fw_farm__fail_at(reader, &told->growth.text.at, "forage.growth", err);
    return status;
}
