/* Figures, texts and words of a plan.json, each into its place in a struct. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "store/reading.h"
#include <foldwright/date.h>

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

enum fw_status fw_io__want(struct fw_io__reader *reader, const char *what)
{
    return fw_fail(reader->err, FW_EINPUT, "expected %s", what);
}

enum fw_status fw_io__wrong(struct fw_error *err, const char *list, size_t i,
                            const char *member, const char *expected)
{
    return fw_fail(err, FW_EINPUT, ".%s[%zu].%s: %s", list, i, member,
                   expected);
}

/* ---- figures ---- */

/* Whole numbers are numbers as well: 12 stands for 12.0. */
static enum fw_status read_double(struct fw_io__reader *reader,
                                  const struct fw_io__member *member,
                                  struct json_object *from, char *at)
{
    if (!json_object_is_type(from, json_type_double) &&
        !json_object_is_type(from, json_type_int))
        return fw_io__want(reader, "a number");
    const double value = json_object_get_double(from);
    if (!(value - value == 0)) /* an exponent beyond all bounds */
        return fw_io__want(reader, "a number under 1e308");
    if (member->most > 0 && !(value >= member->least && value <= member->most &&
                              (value > member->least || !member->over)))
        return fw_fail(
            reader->err, FW_EINPUT, "is %g; expected %s%g, and at most %g",
            value, member->over ? "over " : "", member->least, member->most);
    memcpy(at, &value, sizeof value);
    return FW_OK;
}

static enum fw_status read_whole(struct fw_io__reader *reader,
                                 struct json_object *from, int64_t least,
                                 int64_t most, int64_t *value)
{
    if (!json_object_is_type(from, json_type_int))
        return fw_io__want(reader, "a whole number");
    *value = json_object_get_int64(from);
    if (*value < least || *value > most)
        return fw_fail(reader->err, FW_EINPUT, "is %lld; expected %lld to %lld",
                       (long long)*value, (long long)least, (long long)most);
    return FW_OK;
}

static enum fw_status read_int(struct fw_io__reader *reader,
                               struct json_object *from, char *at)
{
    int64_t whole;
    enum fw_status status = read_whole(reader, from, INT_MIN, INT_MAX, &whole);
    if (status)
        return status;
    const int value = (int)whole;
    memcpy(at, &value, sizeof value);
    return FW_OK;
}

/* No plan holds so many of anything; sums of two of them cannot overflow. */
static const int64_t most_index = 1LL << 40;

enum fw_status fw_io__read_size(struct fw_io__reader *reader,
                                struct json_object *from, char *at)
{
    int64_t whole = 0;
    enum fw_status status = read_whole(reader, from, 0, most_index, &whole);
    if (!status)
        memcpy(at, &(size_t){(size_t)whole}, sizeof(size_t));
    return status;
}

static enum fw_status read_unsigned(struct fw_io__reader *reader,
                                    struct json_object *from, char *at)
{
    int64_t whole = 0;
    enum fw_status status = read_whole(reader, from, 0, UINT_MAX, &whole);
    if (!status)
        memcpy(at, &(unsigned){(unsigned)whole}, sizeof(unsigned));
    return status;
}

static enum fw_status read_bool(struct fw_io__reader *reader,
                                struct json_object *from, char *at)
{
    if (!json_object_is_type(from, json_type_boolean))
        return fw_io__want(reader, "true or false");
    memcpy(at, &(bool){json_object_get_boolean(from) != 0}, sizeof(bool));
    return FW_OK;
}

/* ---- words ---- */

static bool steers(const char *text)
{
    while (*text && !fw_text_is_control(text))
        text++;
    return *text != '\0';
}

/* Whoever made the file, it is shown on a terminal. */
static const char *cleaned(struct fw_io__reader *reader,
                           struct json_object *from, const char *text)
{
    char *copy = fw_strdup(text);
    const bool done = copy && json_object_set_string(from, fw_text_clean(copy));
    fw_free(copy);
    if (!done)
        fw_fail_memory(reader->err);
    return done ? json_object_get_string(from) : NULL;
}

const char *fw_io__text_of(struct fw_io__reader *reader,
                           struct json_object *from)
{
    if (!json_object_is_type(from, json_type_string)) {
        fw_io__want(reader, "a text");
        return NULL;
    }
    const char *text = json_object_get_string(from);
    if (strlen(text) != (size_t)json_object_get_string_len(from)) {
        fw_io__want(reader, "a text without \\u0000");
        return NULL;
    }
    return steers(text) ? cleaned(reader, from, text) : text;
}

static enum fw_status keep_string(struct fw_io__reader *reader,
                                  const char *text, char *at)
{
    char *own = fw_strdup(text);
    if (!own)
        return fw_fail_memory(reader->err);
    memcpy(at, &own, sizeof own);
    return FW_OK;
}

static enum fw_status read_string(struct fw_io__reader *reader,
                                  struct json_object *from, char *at)
{
    const char *text = fw_io__text_of(reader, from);
    return text ? keep_string(reader, text, at) : FW_EINPUT;
}

static enum fw_status read_source(struct fw_io__reader *reader,
                                  struct json_object *from, char *at)
{
    const char *text = fw_io__text_of(reader, from);
    if (!text)
        return FW_EINPUT;
    if (reader->source_count < FW_IO__MOST_SOURCES)
        reader->sources[reader->source_count++] =
            (struct fw_io__source){at, text};
    return FW_OK;
}

static enum fw_status read_day(struct fw_io__reader *reader,
                               struct json_object *from, char *at)
{
    int day;
    if (!from)
        return fw_io__want(reader, "a day");
    const char *text = fw_io__text_of(reader, from);
    enum fw_status status =
        text ? fw_date_read(text, &day, reader->err) : FW_EINPUT;
    if (!status)
        memcpy(at, &day, sizeof day);
    return status;
}

/* Index of the text among the words; a NULL text is the NULL word. */
static bool find_word(const char *const *words, size_t count, const char *text,
                      int *out)
{
    for (size_t i = 0; i < count; i++) {
        const bool is =
            text && words[i] ? !strcmp(text, words[i]) : text == words[i];
        if (is) {
            *out = (int)i;
            return true;
        }
    }
    return false;
}

static enum fw_status read_word(struct fw_io__reader *reader,
                                const char *const *words, size_t count,
                                struct json_object *from, char *at)
{
    const char *text = from ? fw_io__text_of(reader, from) : NULL;
    if (from && !text)
        return FW_EINPUT;
    int value;
    if (!find_word(words, count, text, &value))
        return fw_fail(reader->err, FW_EINPUT,
                       "is %.40s; expected a word like \"%s\"",
                       text ? text : "null", words[count - 1]);
    memcpy(at, &value, sizeof value);
    return FW_OK;
}

static enum fw_status read_text(struct fw_io__reader *reader,
                                const struct fw_io__member *member,
                                struct json_object *from, char *at)
{
    int word;
    if (member->words && read_word(reader, member->words, member->word_count,
                                   from, (char *)&word))
        return FW_EINPUT;
    const char *text = fw_io__text_of(reader, from);
    if (!text)
        return FW_EINPUT;
    const size_t length = strlen(text);
    if (length >= member->size)
        return fw_fail(reader->err, FW_EINPUT,
                       "is %zu bytes long; expected at most %zu", length,
                       member->size - 1);
    memcpy(at, text, length + 1);
    return FW_OK;
}

static enum fw_status read_bits(struct fw_io__reader *reader,
                                const struct fw_io__member *member,
                                struct json_object *from, char *at)
{
    if (!json_object_is_type(from, json_type_array))
        return fw_io__want(reader, "a list of words");
    unsigned bits = 0;
    for (size_t i = 0; i < json_object_array_length(from); i++) {
        int bit = 0;
        enum fw_status status =
            read_word(reader, member->words, member->word_count,
                      json_object_array_get_idx(from, i), (char *)&bit);
        if (status)
            return status;
        bits |= 1u << bit;
    }
    memcpy(at, &bits, sizeof bits);
    return FW_OK;
}

enum fw_status fw_io__read_ref(struct fw_io__reader *reader,
                               const struct fw_io__member *member,
                               struct json_object *from, char *at)
{
    static const char *const what[FW_IO__TARGETS] = {
        "field", "paddock", "lane", "fence", "water point", "gate"};
    size_t index = FW_NONE;
    if (!from && member->untold == FW_IO__TOLD)
        return fw_io__want(reader, "one");
    if (from) {
        const char *text = fw_io__text_of(reader, from);
        if (!text)
            return FW_EINPUT;
        index = fw_io__labels_find(&reader->labels[member->target], text);
        if (index == FW_NONE)
            return fw_fail(reader->err, FW_EINPUT,
                           "is \"%.60s\"; the plan has no such %s", text,
                           what[member->target]);
    }
    memcpy(at, &index, sizeof index);
    return FW_OK;
}

/* What its row says that null means. */
static enum fw_status read_null(struct fw_io__reader *reader,
                                const struct fw_io__member *member, char *at)
{
    switch (member->untold) {
    case FW_IO__IF_NEGATIVE:
        if (member->type == FW_IO__INT)
            memcpy(at, &(int){-1}, sizeof(int));
        else
            memcpy(at, &(double){-1}, sizeof(double));
        return FW_OK;
    case FW_IO__IF_NAN:
        memcpy(at, &(double){(double)NAN}, sizeof(double));
        return FW_OK;
    case FW_IO__IF_NONE:
        if (member->type == FW_IO__DAY)
            memcpy(at, &(int){FW_NO_DAY}, sizeof(int));
        else
            memcpy(at, &(size_t){FW_NONE}, sizeof(size_t));
        return FW_OK;
    case FW_IO__IF_EMPTY:
        return member->type == FW_IO__STRING ? keep_string(reader, "", at)
                                             : FW_OK;
    default:
        return FW_OK; /* all is 0 already */
    }
}

enum fw_status fw_io__read_simple(struct fw_io__reader *reader,
                                  const struct fw_io__member *member,
                                  struct json_object *from, char *to, char *at)
{
    if (member->untold == FW_IO__IF_UNKNOWN)
        memcpy(to + member->known, &(bool){from != NULL}, sizeof(bool));
    if (!from && member->untold != FW_IO__TOLD)
        return read_null(reader, member, at);
    switch (member->type) {
    case FW_IO__INT:
        return read_int(reader, from, at);
    case FW_IO__UNSIGNED:
        return read_unsigned(reader, from, at);
    case FW_IO__SIZE:
        return fw_io__read_size(reader, from, at);
    case FW_IO__BOOL:
        return read_bool(reader, from, at);
    case FW_IO__DAY:
        return read_day(reader, from, at);
    case FW_IO__TEXT:
        return read_text(reader, member, from, at);
    case FW_IO__STRING:
        return read_string(reader, from, at);
    case FW_IO__SOURCE:
        return read_source(reader, from, at);
    case FW_IO__WORD:
        return read_word(reader, member->words, member->word_count, from, at);
    case FW_IO__BITS:
        return read_bits(reader, member, from, at);
    default:
        return read_double(reader, member, from, at);
    }
}
