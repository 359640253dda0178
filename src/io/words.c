#include "io/words.h"

#include <string.h>
#include <strings.h>

/* Bytes of the UTF-8 character at `at`, 0 when it is none. Overlong forms,
 * surrogates and what lies beyond U+10FFFF are none. */
static size_t character(const unsigned char *at)
{
    static const struct {
        unsigned char first, last, least, most; /* of the second byte */
        unsigned char bytes;
    } rows[] = {
        {0x00, 0x7F, 0x00, 0xFF, 1}, {0xC2, 0xDF, 0x80, 0xBF, 2},
        {0xE0, 0xE0, 0xA0, 0xBF, 3}, {0xE1, 0xEC, 0x80, 0xBF, 3},
        {0xED, 0xED, 0x80, 0x9F, 3}, {0xEE, 0xEF, 0x80, 0xBF, 3},
        {0xF0, 0xF0, 0x90, 0xBF, 4}, {0xF1, 0xF3, 0x80, 0xBF, 4},
        {0xF4, 0xF4, 0x80, 0x8F, 4},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (at[0] < rows[i].first || at[0] > rows[i].last)
            continue;
        if (rows[i].bytes == 1)
            return 1;
        if (at[1] < rows[i].least || at[1] > rows[i].most)
            return 0;
        for (size_t k = 2; k < rows[i].bytes; k++)
            if ((at[k] & 0xC0) != 0x80)
                return 0;
        return rows[i].bytes;
    }
    return 0;
}

char *fw_io__one_line(char *room, size_t size, const char *text)
{
    const unsigned char *from = (const unsigned char *)text;
    size_t length = 0;
    while (*from) {
        const size_t bytes = character(from);
        const char *put = (const char *)from;
        size_t count = bytes;
        if (!bytes) {
            put = "\xEF\xBF\xBD";
            count = 3;
        } else if (*from < 0x20 || *from == 0x7F) {
            put = " ";
        }
        from += bytes ? bytes : 1;
        if (*put == ' ' && length == 0)
            continue;
        if (length + count >= size)
            break;
        memcpy(room + length, put, count);
        length += count;
    }
    while (length && room[length - 1] == ' ')
        length--;
    room[length] = '\0';
    return room;
}

bool fw_io__ends_with(const char *text, const char *end)
{
    const size_t length = strlen(text), wanted = strlen(end);
    return length >= wanted && !strcasecmp(text + length - wanted, end);
}

const char *fw_io__base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}
