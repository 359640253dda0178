#include "io/words.h"

#include "base/text.h"

#include <string.h>
#include <strings.h>

char *fw_io__one_line(char *room, size_t size, const char *text)
{
    const char *from = text;
    size_t length = 0;
    while (*from) {
        const size_t bytes = fw_text_letter(from);
        const char *put = from;
        size_t count = bytes;
        if (!bytes) {
            put = "\xEF\xBF\xBD";
            count = 3;
        } else if (fw_text_is_control(from)) {
            put = " ";
            count = 1;
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
