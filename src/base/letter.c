/* Letters of UTF-8, and those of them that a terminal or a reader of a text
 * would obey instead of showing them. */
#include "base/text.h"

#include <string.h>

/* Unicode 15, table 3-7: no overlong forms, no surrogates, nothing above
 * U+10FFFF. */
size_t fw_text_letter(const char *at)
{
    const unsigned char *s = (const unsigned char *)at;
    if (s[0] < 0x80)
        return 1;
    if (s[0] < 0xC2 || s[0] > 0xF4)
        return 0;
    const size_t bytes = s[0] < 0xE0 ? 2 : s[0] < 0xF0 ? 3 : 4;
    const unsigned char least = s[0] == 0xE0   ? 0xA0
                                : s[0] == 0xF0 ? 0x90
                                               : 0x80;
    const unsigned char most = s[0] == 0xED ? 0x9F : s[0] == 0xF4 ? 0x8F : 0xBF;
    if (s[1] < least || s[1] > most)
        return 0;
    for (size_t i = 2; i < bytes; i++)
        if ((s[i] & 0xC0) != 0x80)
            return 0;
    return bytes;
}

/* U+0000 to U+001F, U+007F to U+009F, the two that end lines, and those that
 * turn the direction of the letters around them. */
bool fw_text_is_control(const char *at)
{
    const unsigned char *s = (const unsigned char *)at;
    if (s[0] < ' ' || s[0] == 127)
        return true;
    if (s[0] == 0xC2)
        return s[1] >= 0x80 && s[1] < 0xA0;
    if (s[0] != 0xE2)
        return false;
    return (s[1] == 0x80 && s[2] >= 0xA8 && s[2] <= 0xAE) ||
           (s[1] == 0x81 && s[2] >= 0xA6 && s[2] <= 0xA9);
}

char *fw_text_clean(char *text)
{
    for (char *at = text; *at;) {
        const size_t bytes = fw_text_letter(at);
        if (bytes == 0)
            *at = '?';
        else if (fw_text_is_control(at))
            memset(at, ' ', bytes);
        at += bytes ? bytes : 1;
    }
    return text;
}
