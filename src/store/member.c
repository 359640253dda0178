/* What a member of a struct tells, by its row: its number or its words. */
#include "store/labels.h"

#include <math.h>
#include <string.h>

static bool has_null_word(const struct fw_io__member *member)
{
    for (size_t i = 0; i < member->word_count; i++)
        if (!member->words[i])
            return true;
    return false;
}

bool fw_io__may_be_null(const struct fw_io__member *member)
{
    switch (member->type) {
    case FW_IO__PLACE:
    case FW_IO__PACED:
        return true;
    case FW_IO__SIZES: /* its numbers may be */
        return false;
    default:
        return member->untold != FW_IO__TOLD || has_null_word(member);
    }
}

static double double_at(const char *at)
{
    double value;
    memcpy(&value, at, sizeof value);
    return value;
}

int fw_io__int_at(const char *at)
{
    int value;
    memcpy(&value, at, sizeof value);
    return value;
}

size_t fw_io__size_at(const char *at)
{
    size_t value;
    memcpy(&value, at, sizeof value);
    return value;
}

const void *fw_io__pointer_at(const char *at)
{
    const void *value;
    memcpy(&value, at, sizeof value);
    return value;
}

static bool is_told(const struct fw_io__member *member, const char *from,
                    double value)
{
    switch (member->untold) {
    case FW_IO__IF_ZERO:
        return value != 0;
    case FW_IO__IF_NEGATIVE:
        return value >= 0;
    case FW_IO__IF_UNKNOWN:
        return from[member->known];
    case FW_IO__IF_ELSE:
        return member->told(from);
    default:
        return !isnan(value);
    }
}

bool fw_io__number_of(const struct fw_io__member *member, const char *from,
                      double *out)
{
    const char *at = from + member->at;
    switch (member->type) {
    case FW_IO__DAY:
        *out = fw_io__int_at(at);
        return fw_io__int_at(at) != FW_NO_DAY;
    case FW_IO__SIZE:
        *out = (double)fw_io__size_at(at);
        return fw_io__size_at(at) != FW_NONE;
    case FW_IO__INT:
        *out = fw_io__int_at(at);
        break;
    case FW_IO__UNSIGNED:
        *out = (unsigned)fw_io__int_at(at);
        break;
    default:
        *out = double_at(at);
        break;
    }
    return is_told(member, from, *out);
}

static const char *text_of(const struct fw_io__member *member, const char *text)
{
    return text && !*text && member->untold == FW_IO__IF_EMPTY ? NULL : text;
}

const char *fw_io__words_of(const struct fw_io__member *member,
                            const char *from,
                            const struct fw_io__labels *labels)
{
    const char *at = from + member->at;
    switch (member->type) {
    case FW_IO__TEXT:
        return text_of(member, at);
    case FW_IO__WORD:
        return member->words[fw_io__int_at(at)];
    case FW_IO__REF:
        return fw_io__size_at(at) == FW_NONE
                   ? NULL
                   : labels[member->target].items[fw_io__size_at(at)];
    default:
        return text_of(member, fw_io__pointer_at(at));
    }
}
