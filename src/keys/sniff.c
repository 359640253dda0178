/* Telling a farm file from a map by what is in it: text, one of our own keys
 * at the start of a line, and no bracket before it. */
#include "keys/schema.h"

#include "figures/mark.h"
#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { looked_at = FW_EFFORT(65536) };

static bool is_own_key(const char *line, size_t length)
{
    char key[32];
    const char *colon = memchr(line, ':', length);
    if (!colon)
        return false;
    size_t letters = (size_t)(colon - line);
    while (letters > 0 && line[letters - 1] == ' ')
        letters--;
    const size_t after = (size_t)(colon - line) + 1;
    if (letters == 0 || letters >= sizeof key ||
        (after < length && !isspace((unsigned char)line[after])))
        return false;
    memcpy(key, line, letters);
    key[letters] = '\0';
    return fw_farm__find("", key) != FW_NO_ROW;
}

static bool is_farm_text(const char *text, size_t length)
{
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t mark_length = sizeof mark - 1;
    if (length >= mark_length && memcmp(text, mark, mark_length) == 0) {
        text += mark_length;
        length -= mark_length;
    }
    if (memchr(text, '\0', length))
        return false;
    bool first = true;
    while (length > 0) {
        const char *end = memchr(text, '\n', length);
        const size_t line = end ? (size_t)(end - text) : length;
        const bool says = line > 0 && text[0] != '#' && text[0] != '\r';
        if (first && says && strchr("{[<", text[0]))
            return false;
        if (says && is_own_key(text, line))
            return true;
        first = first && !says;
        text += line;
        length -= line;
        if (length > 0) {
            text++;
            length--;
        }
    }
    return false;
}

bool fw_farm_is_farm_file(const char *path)
{
    FILE *file = fw_file_is_plain(path) ? fopen(path, "rb") : NULL;
    char text[looked_at]; /* no memory that can be refused: a farm file it is */
    if (!file)
        return false;
    const bool farm = is_farm_text(text, fread(text, 1, looked_at, file));
    fclose(file);
    return farm;
}
