/* Which columns of a map speak of a voltage, and what the tags of
 * OpenStreetMap, which share one column, say of it. */
#include "io/map_volts.h"
#include "io/words.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

/* In lower case; "kV" is a word of its own, or ends one. */
static const char *const marks[] = {"volt", "tension", "spannung"};

static bool holds(const char *name, size_t length, const char *mark)
{
    const size_t wanted = strlen(mark);
    for (size_t i = 0; i + wanted <= length; i++)
        if (!strncasecmp(name + i, mark, wanted))
            return true;
    return false;
}

static bool has_kv(const char *name, size_t length)
{
    for (size_t i = 0; i + 2 <= length; i++)
        if (!strncasecmp(name + i, "kv", 2) &&
            (i + 2 == length || !isalpha((unsigned char)name[i + 2])))
            return true;
    return false;
}

static bool is_of_voltage(const char *name, size_t length)
{
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
        if (holds(name, length, marks[i]))
            return true;
    return has_kv(name, length);
}

bool fw_io__is_of_voltage(const char *name)
{
    return is_of_voltage(name, strlen(name));
}

/* The next text in quotes: where it begins, and its length; NULL: none. */
static const char *next_quoted(const char **rest, size_t *length)
{
    const char *start = strchr(*rest, '"');
    if (!start)
        return NULL;
    const char *end = ++start;
    while (*end && *end != '"')
        end += end[0] == '\\' && end[1] ? 2 : 1;
    *length = (size_t)(end - start);
    *rest = *end ? end + 1 : end;
    return start;
}

void fw_io__tags_of_voltage(const char *tags, char *room, size_t size)
{
    size_t length = 0, key_length, value_length;
    const char *key, *value;
    room[0] = '\0';
    while ((key = next_quoted(&tags, &key_length)) &&
           (value = next_quoted(&tags, &value_length))) {
        if (!is_of_voltage(key, key_length) || length + value_length + 2 > size)
            continue;
        if (length)
            room[length++] = ';';
        memcpy(room + length, value, value_length);
        length += value_length;
        room[length] = '\0';
    }
}
