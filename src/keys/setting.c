/* From the options to the draft, by the same rows and setters as the file. */
#include "keys/walk.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/text.h"
#include "figures/mark.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- keys that there are not ---- */

/* Keys straight below a group, for a suggestion and for a list of them. */
enum { most_keys = FW_BOUND(64) };

static size_t keys_of(const char *group, const char *keys[most_keys])
{
    size_t count = 0;
    for (size_t row = 0; row < fw_farm__row_count(); row++) {
        const char *leaf = fw_farm__leaf(row, group);
        if (leaf && count < most_keys)
            keys[count++] = leaf;
    }
    return count;
}

/* Somewhere else in the file, a key of that name is right. */
static const char *elsewhere(const char *key)
{
    for (size_t row = 0; row < fw_farm__row_count(); row++) {
        const char *path = fw_farm__path(row);
        const char *dot = strrchr(path, '.');
        if (dot && strcmp(dot + 1, key) == 0)
            return path;
    }
    return NULL;
}

/* A key that there was once, at the top: none of them lay deeper. */
static const struct fw_farm_key *gone_key(const char *group, const char *key)
{
    size_t count;
    const struct fw_farm_key *gone = fw_farm_gone_keys(&count);
    for (size_t i = 0; i < count && !group[0]; i++)
        if (strcmp(gone[i].path, key) == 0)
            return &gone[i];
    return NULL;
}

enum fw_status fw_farm__no_such_key(const char *group, const char *key,
                                    struct fw_error *err)
{
    const struct fw_farm_key *gone = gone_key(group, key);
    if (gone)
        return fw_fail(err, FW_EINPUT, "is no key any more: %s; leave it out",
                       gone->help);
    const char *keys[most_keys];
    const size_t count = keys_of(group, keys);
    const char *near = fw_text_nearest(key, keys, count);
    const char *path = elsewhere(key);
    if (path)
        return fw_fail(err, FW_EINPUT, "no such key here; it belongs to %.*s",
                       (int)(strrchr(path, '.') - path), path);
    if (near)
        return fw_fail(err, FW_EINPUT, "no such key; did you mean \"%s\"?",
                       near);
    char list[512] = "";
    size_t length = 0;
    for (size_t i = 0; i < count && length < sizeof list; i++)
        length += (size_t)snprintf(list + length, sizeof list - length, "%s%s",
                                   i ? ", " : "", keys[i]);
    return fw_fail(err, FW_EINPUT, "no such key; expected one of %s", list);
}

enum fw_status fw_farm__keep(struct fw_farm__reader *reader, const char *bytes,
                             size_t count, const char **out,
                             struct fw_error *err)
{
    const enum fw_status status =
        fw_array_reserve(&reader->owned, &reader->owned_capacity,
                         reader->owned_count + 1, sizeof *reader->owned, err);
    if (status)
        return status;
    char *copy = fw_alloc(count + 1, 1);
    if (!copy)
        return fw_fail_memory(err);
    memcpy(copy, bytes, count);
    reader->owned[reader->owned_count++] = copy;
    *out = copy;
    return FW_OK;
}

enum fw_status fw_farm__check_line(const char *text, size_t length,
                                   struct fw_error *err)
{
    for (size_t i = 0; i < length; i++)
        if (fw_text_is_control(text + i))
            return fw_fail(err, FW_EINPUT,
                           "\"%.60s\" has a line end, a tab or a control "
                           "character in it; expected one line of text",
                           text);
    return FW_OK;
}

static enum fw_status no_map(const char *text, struct fw_error *err)
{
    char *shown = fw_source_shown(text);
    if (!shown)
        return fw_fail_memory(err);
    fw_fail(err, FW_EINPUT,
            "\"%.80s\" is no map; expected ROLE=SOURCE or "
            "ROLE:LAYER=SOURCE, such as power-line=power.geojson",
            shown);
    fw_bytes_free(shown);
    return FW_EINPUT;
}

/* "power-line:lines=PG:dbname=farm": what follows the first = is GDAL's. */
static enum fw_status add_map(struct fw_farm__reader *reader, size_t row,
                              const struct fw_farm__at *at, const char *text,
                              struct fw_error *err)
{
    const char *equals = strchr(text, '=');
    if (!equals || equals == text || !equals[1])
        return no_map(text, err);
    const size_t left = (size_t)(equals - text);
    const char *colon = memchr(text, ':', left);
    const size_t role_length = colon ? (size_t)(colon - text) : left;
    const char *role, *layer = NULL;
    enum fw_status status =
        fw_farm__keep(reader, text, role_length, &role, err);
    if (!status && colon)
        status = fw_farm__keep(reader, colon + 1, left - role_length - 1,
                               &layer, err);
    if (!status)
        status = fw_farm__enter_item(reader, row,
                                     *fw_farm__item_count(reader, row), err);
    if (!status)
        status = fw_farm__put(reader, fw_farm__find("maps[]", "role"), at, role,
                              err);
    if (!status)
        status = fw_farm__put(reader, fw_farm__find("maps[]", "source"), at,
                              equals + 1, err);
    if (!status && layer)
        status = fw_farm__put(reader, fw_farm__find("maps[]", "layer"), at,
                              layer, err);
    return status;
}

/* Cut at the first of that letter, both sides without spaces about them; *rest
 * is NULL where it is not. */
static enum fw_status cut_at(struct fw_farm__reader *reader, const char *text,
                             char letter, const char **left, const char **rest,
                             struct fw_error *err)
{
    const char *at = strchr(text, letter);
    size_t length = at ? (size_t)(at - text) : strlen(text);
    while (length > 0 && text[length - 1] == ' ')
        length--;
    *rest = at ? at + 1 + strspn(at + 1, " ") : NULL;
    return fw_farm__keep(reader, text, length, left, err);
}

static enum fw_status add_part_key(struct fw_farm__reader *reader,
                                   const struct fw_farm__at *at,
                                   const char *text, struct fw_error *err)
{
    const char *key, *value;
    enum fw_status status = cut_at(reader, text, '=', &key, &value, err);
    if (status)
        return status;
    if (!value || !value[0])
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" tells nothing of the part; expected "
                       "KEY=VALUE, such as grazed=2027-08-14",
                       text);
    const size_t row = fw_farm__find("stockpile.parts[]", key);
    status = row == FW_NO_ROW
                 ? fw_farm__no_such_key("stockpile.parts[]", key, err)
                 : fw_farm__put(reader, row, at, value, err);
    return status ? fw_fail_where(err, "%s: ", key) : FW_OK;
}

/* "heavy: area=1.2 ha, grazed=2027-06-10". */
static enum fw_status add_part(struct fw_farm__reader *reader, size_t row,
                               const struct fw_farm__at *at, const char *text,
                               struct fw_error *err)
{
    const char *name, *rest, *pair;
    enum fw_status status = cut_at(reader, text, ':', &name, &rest, err);
    if (!status && (!rest || !name[0] || strchr(name, '=')))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is no part; expected NAME: KEY=VALUE, "
                       "KEY=VALUE, such as \"heavy: area=1.2 ha, "
                       "grazed=2027-06-10, left=9 cm\"",
                       text);
    if (!status)
        status = fw_farm__enter_item(reader, row,
                                     *fw_farm__item_count(reader, row), err);
    if (!status)
        status = fw_farm__put(
            reader, fw_farm__find("stockpile.parts[]", "part"), at, name, err);
    while (!status && rest && rest[0]) {
        status = cut_at(reader, rest, ',', &pair, &rest, err);
        if (!status)
            status = add_part_key(reader, at, pair, err);
    }
    return status;
}

/* ---- the key ---- */

enum { part_room = FW_EFFORT(64) };

/* The next part of a key: "flock", and the index that follows it as text
 * between brackets, NULL without one. *key moves past the dot. */
static enum fw_status next_part(const char **key, char part[part_room],
                                char index[part_room], bool *indexed,
                                struct fw_error *err)
{
    const size_t length = strcspn(*key, ".[");
    const char *rest = *key + length;
    index[0] = '\0';
    *indexed = rest[0] == '[';
    size_t inner = 0;
    if (*indexed)
        inner = strcspn(rest + 1, "]");
    if (length == 0 || length >= part_room || inner >= part_room ||
        (*indexed && rest[1 + inner] != ']'))
        return fw_fail(err, FW_EINPUT,
                       "\"%.80s\" is no key; expected such as flock[0].head",
                       *key);
    memcpy(part, *key, length);
    part[length] = '\0';
    if (*indexed) {
        memcpy(index, rest + 1, inner);
        index[inner] = '\0';
        rest += inner + 2;
    }
    *key = rest + (rest[0] == '.');
    return FW_OK;
}

/* "" is the first item, "+" one more than there are. */
static enum fw_status enter_list(struct fw_farm__reader *reader, size_t row,
                                 const char *index, struct fw_error *err)
{
    const size_t count = *fw_farm__item_count(reader, row);
    size_t item = index[0] == '+' ? count : 0;
    if (index[0] && strspn(index, "0123456789") == strlen(index) &&
        strlen(index) < FW_EFFORT(7))
        item = (size_t)strtoul(index, NULL, 10);
    else if (index[0] && strcmp(index, "+") != 0)
        item = count + 1;
    if (item > count)
        return fw_fail(err, FW_EINPUT,
                       "there is no %s[%s]; there are %zu, counted from 0",
                       fw_farm__path(row), index, count);
    return fw_farm__enter_item(reader, row, item, err);
}

/* Move the cursor along the key's parts; *row is its last one's. */
static enum fw_status follow(struct fw_farm__reader *reader, const char *key,
                             size_t *row, bool *to_list, struct fw_error *err)
{
    char group[2 * part_room] = "", part[part_room], index[part_room];
    for (;;) {
        bool indexed;
        enum fw_status status = next_part(&key, part, index, &indexed, err);
        if (status)
            return status;
        *row = fw_farm__find(group, part);
        if (*row == FW_NO_ROW)
            return fw_farm__no_such_key(group, part, err);
        const struct fw_farm__reading *reading = fw_farm__reading(*row);
        const bool list = reading->shape == FW_SHAPE_LIST;
        *to_list = list && !*key;
        if (*to_list)
            return FW_OK;
        if (list)
            status = enter_list(reader, *row, index, err);
        else if (reading->shape == FW_SHAPE_GROUP)
            fw_farm__enter(reader, *row, true);
        if (status || (!list && reading->shape != FW_SHAPE_GROUP))
            return status;
        snprintf(group, sizeof group, "%s%s",
                 reading->like ? reading->like : fw_farm__path(*row),
                 list ? "[]" : "");
        if (!*key)
            return fw_fail(err, FW_EINPUT, "\"%s\" has keys below it; name one",
                           part);
    }
}

/* What the file said under a key of several values goes. */
static void forget(struct fw_farm__draft *draft, size_t row)
{
    const struct fw_farm__reading *reading = fw_farm__reading(row);
    if (reading->set == fw_farm__set_stay)
        draft->stay = (struct fw_farm__stay){0};
    else if (reading->set == fw_farm__set_away && !draft->away.at.where)
        draft->away.count = 0;
    else if (reading->set == fw_farm__set_only && !draft->only.at.where)
        draft->only.count = 0;
    else if (reading->set == fw_farm__set_copy && !draft->copy.at.where)
        draft->copy.count = 0;
    else if (reading->set == fw_farm__set_covers && !draft->covers.at.where)
        draft->covers.count = 0;
    else if (reading->set == fw_farm__set_looked && !draft->looked.at.where)
        draft->looked.what = 0;
}

static enum fw_status apply(struct fw_farm__reader *reader,
                            const struct fw_farm_setting *setting,
                            struct fw_error *err)
{
    const struct fw_farm__at at = {
        .given = true, .where = setting->where ? setting->where : setting->key};
    size_t row = 0;
    bool to_list = false;
    enum fw_status status =
        fw_farm__check_line(setting->value, strlen(setting->value), err);
    if (!status)
        status = follow(reader, setting->key, &row, &to_list, err);
    if (!status && to_list && strcmp(fw_farm__path(row), "maps") == 0)
        status = add_map(reader, row, &at, setting->value, err);
    else if (!status && to_list &&
             fw_farm__reading(row)->owner == FW_OWNER_PART)
        status = add_part(reader, row, &at, setting->value, err);
    else if (!status && to_list)
        status = fw_fail(err, FW_EINPUT, "has keys below it; name one");
    else if (!status) {
        forget(&reader->draft, row);
        status = fw_farm__put(reader, row, &at, setting->value, err);
    }
    if (status)
        fw_fail_where(err, "%s: ", at.where);
    return status;
}

enum fw_status fw_farm__settings(struct fw_farm__reader *reader,
                                 struct fw_error *err)
{
    const struct fw_farm_request *request = reader->request;
    for (size_t i = 0; i < request->setting_count; i++) {
        const enum fw_status status = apply(reader, &request->settings[i], err);
        if (status)
            return status;
    }
    return FW_OK;
}
