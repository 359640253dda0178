/* What is said of a key: what may stand there, what holds when nobody tells it
 * and why, how to tell it. Figures and their sources are those of the register,
 * words those that are read. */
#include "keys/schema.h"

#include "base/text.h"
#include "figures/say.h"
#include <foldwright/figures.h>
#include <string.h>

enum { room = FW_FARM_KEY_WORDS };

/* As people write it: in the unit of the row's example. */
static const char *say_value(const struct fw_farm__reading *row, double value,
                             char text[room])
{
    const char *unit = row->example + strspn(row->example, "0123456789.- ");
    if (strcmp(unit, "%") == 0 || strcmp(unit, "cm") == 0)
        value *= 100;
    if (strcmp(unit, "g") == 0)
        value *= 1000;
    if (strcmp(unit, "kV") == 0 && row->scale == 0)
        value /= 1000;
    if (strncmp(unit, "day", strlen("day")) == 0)
        unit = value == 1 ? "day" : "days";
    fw_text_format(text, room, "%.7g%s%s", value, *unit ? " " : "", unit);
    return text;
}

static const char *say_quantity(const struct fw_farm__reading *row,
                                char text[room])
{
    const bool count = row->kind == FW_KIND_COUNT;
    char least[room], most[room];
    fw_text_format(text, room, "%s%s to %s%s", count ? "a whole number, " : "",
                   row->least != 0 ? say_value(row, row->least, least) : "0",
                   say_value(row, row->most, most),
                   row->or_else ? row->or_else : "");
    return text;
}

static const char *say_words(const struct fw_farm__reading *row,
                             char text[room])
{
    size_t used = 0;
    const size_t first = row->words[0] ? 0 : 1;
    for (size_t i = first; i < row->word_count; i++)
        used += (size_t)fw_text_format(text + used, room - used, "%s%s",
                                       i == first                 ? ""
                                       : i + 1 == row->word_count ? " or "
                                                                  : ", ",
                                       row->words[i]);
    return text;
}

const char *fw_farm__range(const struct fw_farm__reading *row, char text[room])
{
    if (row->range)
        return fw_text_clip(row->range, text, room);
    return row->words ? say_words(row, text) : say_quantity(row, text);
}

/* The first word of a pick holds, unless that is what nobody told. */
static const char *say_taken(const struct fw_farm__reading *row,
                             char text[room])
{
    if (row->words && row->words[0])
        return fw_text_clip(row->words[0], text, room);
    return NULL;
}

/* Of a curve its two ends. */
static const char *say_figure(const struct fw_farm__reading *row,
                              char text[room])
{
    const struct fw_figure *figure = fw_figures_find(row->figure);
    const int last = figure->points - 1;
    char value[room], other[room];
    if (last > 0) {
        fw_text_format(text, room, "%s to %s, for %g to %g %s (%s)",
                       say_value(row, figure->values[0], value),
                       say_value(row, figure->values[last], other),
                       figure->at[0], figure->at[last], figure->at_unit,
                       figure->source);
        return text;
    }
    fw_text_format(text, room, "%s%s (%s)",
                   figure->word ? figure->word
                                : say_value(row, figure->value, value),
                   row->also ? row->also : "", figure->source);
    return text;
}

const char *fw_farm__otherwise(const struct fw_farm__reading *row,
                               char text[room])
{
    if (row->otherwise)
        return fw_text_clip(row->otherwise, text, room);
    return row->figure ? say_figure(row, text) : say_taken(row, text);
}

/* ---- how to tell it ---- */

static size_t row_of(const char *path)
{
    size_t row = 0;
    while (strcmp(fw_farm__path(row), path) != 0)
        row++;
    return row;
}

const char *fw_farm__example(const char *path)
{
    return fw_farm__reading(row_of(path))->example;
}

/* What is written in the metric system, in that which they read. */
static const char *example_in(const char *example, enum fw_units units,
                              char text[FW_SAID])
{
    const char *unit;
    const double value = fw_text_number(example, &unit);
    unit += strspn(unit, " ");
    if (strcmp(unit, "kg") == 0)
        return fw_say_mass(value, units, text);
    if (strcmp(unit, "kg/ha") == 0)
        return fw_say_mass_per_area(value, units, text);
    if (strcmp(unit, "cm") == 0)
        return fw_say_height(value / 100, units, FW_NEAREST, text);
    return example;
}

const char *fw_farm__tell(const char *path, size_t item, char text[room])
{
    return fw_farm__tell_in(FW_METRIC, path, item, text);
}

const char *fw_farm__tell_in(enum fw_units units, const char *path, size_t item,
                             char text[room])
{
    size_t count;
    const struct fw_farm_key *key = &fw_farm_keys(&count)[row_of(path)];
    const int list = (int)strcspn(path, "[");
    char number[32] = "", value[room], said[FW_SAID];
    const char *example = example_in(key->example, units, said);
    size_t length = 0;
    if (path[list])
        fw_text_format(number, sizeof number, "[%zu", item);
    fw_text_format(text, room, "%.*s%s%s: %s", list, path, number,
                   path[list] ? path + list + 1 : "", example);
    if (!key->option || item > 0)
        return text;
    for (const char *c = example; *c; c++)
        if (*c != ' ')
            value[length++] = *c;
    value[length] = '\0';
    const size_t used = strlen(text);
    fw_text_format(text + used, room - used, " (%s %s)", key->option, value);
    return text;
}
