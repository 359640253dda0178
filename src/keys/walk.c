/* From the document to the draft: each key is looked up in the schema, each
 * value read by its row's setter. The first thing that is wrong ends it. */
#include "keys/walk.h"

#include "figures/mark.h"

#include <stdio.h>
#include <string.h>

static enum fw_status group_node(struct fw_farm__reader *reader,
                                 const yaml_node_t *node, const char *group,
                                 struct fw_error *err);

enum fw_status fw_farm__fail_at(const struct fw_farm__reader *reader,
                                const struct fw_farm__at *at, const char *key,
                                struct fw_error *err)
{
    if (at->where)
        return fw_fail_where(err, "%s: ", at->where);
    return fw_fail_where(err, "%s:%zu: %s: ", reader->request->farm_path,
                         at->line, key);
}

static enum fw_status fail_here(const struct fw_farm__reader *reader,
                                const yaml_node_t *node, enum fw_status status,
                                struct fw_error *err)
{
    const struct fw_farm__at at = {.line = node->start_mark.line + 1};
    fw_farm__fail_at(reader, &at, reader->path, err);
    return status;
}

/* ---- the path of the key at hand ---- */

static size_t push(struct fw_farm__reader *reader, const char *part)
{
    const size_t before = reader->path_length;
    const size_t room = sizeof reader->path - before;
    const int wrote = snprintf(reader->path + before, room, "%s%s",
                               before && part[0] != '[' ? "." : "", part);
    reader->path_length =
        before + ((size_t)wrote < room ? (size_t)wrote : room - 1);
    return before;
}

static void pop(struct fw_farm__reader *reader, size_t before)
{
    reader->path_length = before;
    reader->path[before] = '\0';
}

static const char *kind_of(const yaml_node_t *node)
{
    switch (node->type) {
    case YAML_SCALAR_NODE:
        return "a single value";
    case YAML_SEQUENCE_NODE:
        return "a list";
    case YAML_MAPPING_NODE:
        return "a group of keys";
    default:
        return "nothing";
    }
}

/* "work: leapfrog" means a key below it; NULL: no key takes such a word. */
static const char *meant_below(const char *group, const char *word)
{
    for (size_t row = 0; row < fw_farm__row_count(); row++) {
        const char *leaf = fw_farm__leaf(row, group);
        const struct fw_farm__reading *reading = fw_farm__reading(row);
        for (size_t i = 0; leaf && i < reading->word_count; i++)
            if (reading->words[i] && strcmp(reading->words[i], word) == 0)
                return leaf;
    }
    return NULL;
}

static enum fw_status wrong_kind(struct fw_farm__reader *reader,
                                 const yaml_node_t *node, size_t row,
                                 struct fw_error *err)
{
    const struct fw_farm__reading *reading = fw_farm__reading(row);
    static const char *const wanted[] = {"one value", "one value or a list",
                                         "one value or days of the week",
                                         "keys below it", "a list"};
    const char *text = node->type == YAML_SCALAR_NODE
                           ? (const char *)node->data.scalar.value
                           : "";
    const char *path = fw_farm__path(row);
    const char *leaf =
        reading->shape == FW_SHAPE_GROUP ? meant_below(path, text) : NULL;
    if (leaf)
        return fail_here(reader, node,
                         fw_fail(err, FW_EINPUT,
                                 "is a single value; expected keys below it: "
                                 "write %s: {%s: %s}",
                                 path, leaf, text),
                         err);
    return fail_here(reader, node,
                     fw_fail(err, FW_EINPUT, "is %s; expected %s, such as %s",
                             kind_of(node), wanted[reading->shape],
                             reading->example),
                     err);
}

/* ---- values ---- */

/* A plain empty value, ~ or null: as if the key were not there. */
static bool is_empty(const yaml_node_t *node)
{
    if (node->type != YAML_SCALAR_NODE ||
        node->data.scalar.style != YAML_PLAIN_SCALAR_STYLE)
        return false;
    const char *text = (const char *)node->data.scalar.value;
    return !text[0] || strcmp(text, "~") == 0 || strcmp(text, "null") == 0;
}

static enum fw_status scalar_text(struct fw_farm__reader *reader,
                                  const yaml_node_t *node, const char **out,
                                  struct fw_error *err)
{
    const char *text = (const char *)node->data.scalar.value;
    *out = text;
    const enum fw_status status =
        fw_farm__check_line(text, node->data.scalar.length, err);
    return status ? fail_here(reader, node, status, err) : FW_OK;
}

static enum fw_status put_text(struct fw_farm__reader *reader,
                               const yaml_node_t *node, size_t row,
                               const char *text, struct fw_error *err)
{
    const struct fw_farm__at at = {.given = true,
                                   .line = node->start_mark.line + 1};
    const enum fw_status status = fw_farm__put(reader, row, &at, text, err);
    return status ? fail_here(reader, node, status, err) : FW_OK;
}

static enum fw_status value_node(struct fw_farm__reader *reader,
                                 const yaml_node_t *node, size_t row,
                                 struct fw_error *err)
{
    const char *text;
    if (is_empty(node))
        return FW_OK;
    if (node->type != YAML_SCALAR_NODE)
        return wrong_kind(reader, node, row, err);
    const enum fw_status status = scalar_text(reader, node, &text, err);
    return status ? status : put_text(reader, node, row, text, err);
}

static yaml_node_t *node_at(struct fw_farm__reader *reader, int index)
{
    return yaml_document_get_node(&reader->document, index);
}

/* The words of a row's keys are its values: "mon-fri: 1 day". */
static enum fw_status pattern_node(struct fw_farm__reader *reader,
                                   const yaml_node_t *node, size_t row,
                                   struct fw_error *err)
{
    if (node->type != YAML_MAPPING_NODE)
        return value_node(reader, node, row, err);
    const yaml_node_pair_t *pair = node->data.mapping.pairs.start;
    for (; pair < node->data.mapping.pairs.top; pair++) {
        const yaml_node_t *key = node_at(reader, pair->key);
        const yaml_node_t *value = node_at(reader, pair->value);
        const char *left, *right;
        char text[128];
        if (key->type != YAML_SCALAR_NODE || value->type != YAML_SCALAR_NODE)
            return wrong_kind(
                reader, key->type != YAML_SCALAR_NODE ? key : value, row, err);
        enum fw_status status = scalar_text(reader, key, &left, err);
        if (!status)
            status = scalar_text(reader, value, &right, err);
        if (status)
            return status;
        snprintf(text, sizeof text, "%.60s: %.60s", left, right);
        status = put_text(reader, key, row, text, err);
        if (status)
            return status;
    }
    return FW_OK;
}

static enum fw_status values_node(struct fw_farm__reader *reader,
                                  const yaml_node_t *node, size_t row,
                                  struct fw_error *err)
{
    if (node->type != YAML_SEQUENCE_NODE)
        return value_node(reader, node, row, err);
    const yaml_node_item_t *item = node->data.sequence.items.start;
    for (; item < node->data.sequence.items.top; item++) {
        const enum fw_status status =
            value_node(reader, node_at(reader, *item), row, err);
        if (status)
            return status;
    }
    return FW_OK;
}

/* ---- groups and lists ---- */

static enum fw_status item_node(struct fw_farm__reader *reader,
                                const yaml_node_t *node, size_t row,
                                struct fw_error *err)
{
    char group[64], part[32];
    const size_t index = *fw_farm__item_count(reader, row);
    snprintf(group, sizeof group, "%s[]", fw_farm__path(row));
    snprintf(part, sizeof part, "[%zu]", index);
    const size_t before = push(reader, part);
    enum fw_status status = FW_OK;
    if (node->type != YAML_MAPPING_NODE)
        status = fail_here(
            reader, node,
            fw_fail(err, FW_EINPUT, "is %s; expected keys, such as %s",
                    kind_of(node), fw_farm__reading(row)->example),
            err);
    if (!status)
        status = fw_farm__enter_item(reader, row, index, err);
    if (!status)
        status = group_node(reader, node, group, err);
    pop(reader, before);
    return status;
}

/* One group of keys where a list is expected is a list of one. */
static enum fw_status list_node(struct fw_farm__reader *reader,
                                const yaml_node_t *node, size_t row,
                                struct fw_error *err)
{
    if (is_empty(node))
        return FW_OK;
    if (node->type == YAML_MAPPING_NODE)
        return item_node(reader, node, row, err);
    if (node->type != YAML_SEQUENCE_NODE)
        return wrong_kind(reader, node, row, err);
    const yaml_node_item_t *item = node->data.sequence.items.start;
    for (; item < node->data.sequence.items.top; item++) {
        const enum fw_status status =
            item_node(reader, node_at(reader, *item), row, err);
        if (status)
            return status;
    }
    return FW_OK;
}

static enum fw_status row_node(struct fw_farm__reader *reader,
                               const yaml_node_t *node, size_t row,
                               struct fw_error *err)
{
    const struct fw_farm__reading *reading = fw_farm__reading(row);
    switch (reading->shape) {
    case FW_SHAPE_VALUE:
        return value_node(reader, node, row, err);
    case FW_SHAPE_VALUES:
        return values_node(reader, node, row, err);
    case FW_SHAPE_PATTERN:
        return pattern_node(reader, node, row, err);
    case FW_SHAPE_LIST:
        return list_node(reader, node, row, err);
    case FW_SHAPE_GROUP:
        break;
    }
    if (is_empty(node))
        return FW_OK;
    if (node->type != YAML_MAPPING_NODE)
        return wrong_kind(reader, node, row, err);
    fw_farm__enter(reader, row, false);
    return group_node(reader, node,
                      reading->like ? reading->like : fw_farm__path(row), err);
}

static enum fw_status check_twice(struct fw_farm__reader *reader,
                                  const yaml_node_t *group,
                                  const yaml_node_pair_t *pair,
                                  struct fw_error *err)
{
    const yaml_node_t *key = node_at(reader, pair->key);
    const char *text = (const char *)key->data.scalar.value;
    const yaml_node_pair_t *earlier = group->data.mapping.pairs.start;
    for (; earlier < pair; earlier++) {
        const yaml_node_t *other = node_at(reader, earlier->key);
        if (strcmp(text, (const char *)other->data.scalar.value) == 0)
            return fail_here(reader, key,
                             fw_fail(err, FW_EINPUT,
                                     "is told twice, first on line %zu; keep "
                                     "one",
                                     other->start_mark.line + 1),
                             err);
    }
    return FW_OK;
}

static enum fw_status pair_node(struct fw_farm__reader *reader,
                                const yaml_node_t *group,
                                const yaml_node_pair_t *pair, const char *path,
                                struct fw_error *err)
{
    const yaml_node_t *key = node_at(reader, pair->key);
    const char *name;
    if (key->type != YAML_SCALAR_NODE)
        return fail_here(reader, key,
                         fw_fail(err, FW_EINPUT,
                                 "has %s for a key; expected "
                                 "a word",
                                 kind_of(key)),
                         err);
    enum fw_status status = scalar_text(reader, key, &name, err);
    if (status)
        return status;
    const size_t row = fw_farm__find(path, name);
    char part[64];
    snprintf(part, sizeof part, "%.60s", name);
    const size_t before = push(reader, part);
    /* Every key before this one is known and told once, so that looking for
     * it among them stays short. */
    if (row == FW_NO_ROW)
        status =
            fail_here(reader, key, fw_farm__no_such_key(path, name, err), err);
    else
        status = check_twice(reader, group, pair, err);
    if (!status)
        status = row_node(reader, node_at(reader, pair->value), row, err);
    pop(reader, before);
    return status;
}

static enum fw_status group_node(struct fw_farm__reader *reader,
                                 const yaml_node_t *node, const char *group,
                                 struct fw_error *err)
{
    const yaml_node_pair_t *pair = node->data.mapping.pairs.start;
    for (; pair < node->data.mapping.pairs.top; pair++) {
        const enum fw_status status = pair_node(reader, node, pair, group, err);
        if (status)
            return status;
    }
    return FW_OK;
}

/* Quantities above the line that says which units the farm uses are read by
 * them too. What is wrong with that line is said when its turn comes. */
static void look_for_units(struct fw_farm__reader *reader,
                           const yaml_node_t *root)
{
    const yaml_node_pair_t *pair = root->data.mapping.pairs.start;
    for (; pair < root->data.mapping.pairs.top; pair++) {
        const yaml_node_t *key = node_at(reader, pair->key);
        const yaml_node_t *value = node_at(reader, pair->value);
        if (key->type != YAML_SCALAR_NODE || value->type != YAML_SCALAR_NODE ||
            strcmp((const char *)key->data.scalar.value, "units") != 0)
            continue;
        fw_farm__use_units(reader, (const char *)value->data.scalar.value);
    }
}

void fw_farm__use_units(struct fw_farm__reader *reader, const char *text)
{
    const bool us = strcmp(text, "us") == 0;
    if (!us && strcmp(text, "metric") != 0)
        return;
    reader->units = us ? FW_US : FW_METRIC;
    reader->units_given = true;
}

enum fw_status fw_farm__walk(struct fw_farm__reader *reader,
                             struct fw_error *err)
{
    const char *path = reader->request->farm_path;
    const yaml_node_t *root = yaml_document_get_root_node(&reader->document);
    if (!root || is_empty(root))
        return fw_fail(err, FW_EINPUT,
                       "%s: is empty; expected a farm file, such as \"fields: "
                       "{source: fields.geojson}\"",
                       path);
    if (root->type != YAML_MAPPING_NODE)
        return fw_fail(err, FW_EINPUT,
                       "%s:%zu: is %s; expected keys, such as \"farm: Example "
                       "Farm\"",
                       path, root->start_mark.line + 1, kind_of(root));
    if (!reader->units_given)
        look_for_units(reader, root);
    return group_node(reader, root, "", err);
}
