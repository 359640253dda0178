/* Names made unique, the fields that are asked for, the order of grazing. */
#include "keys/names.h"
#include "told/split.h"

#include "base/alloc.h"
#include <stdio.h>
#include <string.h>

/* ---- unique names ---- */

static enum fw_status rename_field(struct fw_farm__names *names,
                                   struct fw_field *field, size_t number,
                                   struct fw_error *err)
{
    struct fw_farm__name *wanted = fw_farm__names_find(names, field->name);
    char name[224];
    do
        snprintf(name, sizeof name, "%s %zu", field->name, wanted->next++);
    while (fw_farm__names_find(names, name));
    char *copy = fw_strdup(name);
    if (!copy)
        return fw_fail_memory(err);
    /* The old text stays in the table through the field that keeps it. */
    fw_free(field->name);
    field->name = copy;
    fw_farm__names_put(names, copy, number);
    return FW_OK;
}

/* The first field of a name keeps it, and so does one whose name looks like a
 * made one: all names of the maps are in the table before any is made. */
static enum fw_status make_unique(struct fw_farm *farm,
                                  struct fw_farm__names *names,
                                  struct fw_error *err)
{
    for (size_t i = 0; i < farm->field_count; i++)
        if (!fw_farm__names_find(names, farm->fields[i].shape->name))
            fw_farm__names_put(names, farm->fields[i].shape->name, i);
    for (size_t i = 0; i < farm->field_count; i++) {
        struct fw_field *field = farm->fields[i].shape;
        enum fw_status status = FW_OK;
        if (fw_farm__names_find(names, field->name)->number != i)
            status = rename_field(names, field, i, err);
        if (status)
            return status;
    }
    return FW_OK;
}

/* A whole field's name means all its parts, which lie one behind the other. */
static void name_wholes(const struct fw_farm *farm,
                        struct fw_farm__names *names)
{
    for (size_t i = 0; i < farm->field_count; i++) {
        const struct fw_field *whole = farm->fields[i].border.whole;
        if (whole && !fw_farm__names_find(names, whole->name))
            fw_farm__names_put(names, whole->name, i);
    }
}

/* Is that field meant by a name that the table has for another? */
static bool is_meant(const struct fw_farm *farm, size_t field,
                     const struct fw_farm__name *name)
{
    return field == name->number ||
           (farm->fields[field].border.whole ==
                farm->fields[name->number].border.whole &&
            farm->fields[field].border.whole &&
            strcmp(farm->fields[field].border.whole->name, name->text) == 0);
}

/* ---- which fields, in which order ---- */

static enum fw_status no_such_field(const struct fw_farm *farm,
                                    const char *name, struct fw_error *err)
{
    const char **names = fw_alloc(farm->field_count, sizeof *names);
    if (!names)
        return fw_fail_memory(err);
    for (size_t i = 0; i < farm->field_count; i++)
        names[i] = farm->fields[i].shape->name;
    const char *near = fw_text_nearest(name, names, farm->field_count);
    fw_free(names);
    if (near)
        fw_fail(err, FW_EINPUT,
                "there is no field \"%.80s\"; did you mean \"%.80s\"?", name,
                near);
    else
        fw_fail(err, FW_EINPUT,
                "there is no field \"%.80s\"; check shows the names of all %zu",
                name, farm->field_count);
    return FW_EINPUT;
}

/* order[i] says which field comes at i; each_of as in the reader. */
struct order {
    size_t *field;
    size_t *each; /* by field: from 1 */
    bool *taken;
    bool *wanted;
    size_t count;
};

static enum fw_status order_init(struct order *order, size_t count,
                                 struct fw_error *err)
{
    *order = (struct order){
        .field = fw_alloc(count, sizeof *order->field),
        .each = fw_alloc(count, sizeof *order->each),
        .taken = fw_alloc(count, sizeof *order->taken),
        .wanted = fw_alloc(count, sizeof *order->wanted),
    };
    if (order->field && order->each && order->taken && order->wanted)
        return FW_OK;
    return fw_fail_memory(err);
}

static void order_release(struct order *order)
{
    fw_free(order->field);
    fw_free(order->each);
    fw_free(order->taken);
    fw_free(order->wanted);
}

static enum fw_status choose(struct fw_farm__reader *reader,
                             const struct fw_farm__names *names,
                             struct order *order, struct fw_error *err)
{
    const struct fw_farm__words *only = &reader->draft.only;
    const struct fw_farm *farm = reader->farm;
    for (size_t i = 0; i < farm->field_count; i++)
        order->wanted[i] = only->count == 0;
    for (size_t i = 0; i < only->count; i++) {
        const char *name = only->names[i].text;
        const struct fw_farm__name *found = fw_farm__names_find(names, name);
        if (!found) {
            const enum fw_status status = no_such_field(farm, name, err);
            fw_farm__fail_at(reader, &only->at, "fields.only", err);
            return status;
        }
        for (size_t k = 0; k < farm->field_count; k++)
            order->wanted[k] |= is_meant(farm, k, found);
    }
    return FW_OK;
}

/* Before some are left out: a cover of such a one is no mistake. */
static enum fw_status put_covers(struct fw_farm__reader *reader,
                                 const struct fw_farm__names *names,
                                 struct fw_error *err)
{
    const struct fw_farm__covers *covers = &reader->draft.covers;
    for (size_t i = 0; i < covers->count; i++) {
        const struct fw_farm__cover *cover = &covers->items[i];
        const struct fw_farm__name *found =
            fw_farm__names_find(names, cover->field);
        if (!found) {
            const enum fw_status status =
                no_such_field(reader->farm, cover->field, err);
            fw_farm__fail_at(reader, &covers->at, "covers", err);
            return status;
        }
        for (size_t k = 0; k < reader->farm->field_count; k++)
            if (is_meant(reader->farm, k, found))
                reader->farm->fields[k].cover_kg_ha = cover->kg_ha;
    }
    return FW_OK;
}

static enum fw_status fail_each(const struct fw_farm__reader *reader,
                                size_t each, struct fw_error *err)
{
    char key[64];
    const struct fw_farm__at *at = &reader->draft.each[each].field.at;
    snprintf(key, sizeof key, "fields.each[%zu].field", each);
    if (at->given)
        return fw_farm__fail_at(reader, at, key, err);
    return fw_fail_where(err, "%s: %s: ",
                         reader->request->farm_path ? reader->request->farm_path
                                                    : "fields.each",
                         key);
}

/* What is told for a part goes before what is told for its whole field. */
static void put_field(struct order *order, size_t field, size_t each, bool own)
{
    if (own || order->each[field] == 0)
        order->each[field] = each + 1;
    if (order->wanted[field] && !order->taken[field]) {
        order->taken[field] = true;
        order->field[order->count++] = field;
    }
}

static bool is_told_twice(const struct fw_farm__reader *reader, size_t each,
                          size_t before)
{
    return before && strcmp(reader->draft.each[before - 1].field.text,
                            reader->draft.each[each].field.text) == 0;
}

static enum fw_status put_each(struct fw_farm__reader *reader,
                               const struct fw_farm__names *names,
                               struct order *order, size_t each,
                               struct fw_error *err)
{
    const struct fw_farm__text *told = &reader->draft.each[each].field;
    if (!told->at.given) {
        fw_fail(err, FW_EINPUT,
                "is missing; expected the name of a field, such as \"%s\"",
                reader->farm->fields[0].shape->name);
        return fail_each(reader, each, err);
    }
    const struct fw_farm__name *found = fw_farm__names_find(names, told->text);
    if (!found) {
        no_such_field(reader->farm, told->text, err);
        return fail_each(reader, each, err);
    }
    const size_t before = order->each[found->number];
    if (is_told_twice(reader, each, before)) {
        fw_fail(err, FW_EINPUT,
                "\"%.80s\" is told twice, first as fields.each[%zu]",
                told->text, before - 1);
        return fail_each(reader, each, err);
    }
    const struct fw_farm *farm = reader->farm;
    for (size_t i = 0; i < farm->field_count; i++)
        if (is_meant(farm, i, found))
            put_field(order, i, each,
                      strcmp(farm->fields[i].shape->name, told->text) == 0);
    return FW_OK;
}

/* Move the fields into their order; those that nobody asked for go. */
static enum fw_status apply(struct fw_farm__reader *reader, struct order *order,
                            struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    struct fw_farm_field *fields = fw_alloc(farm->field_count, sizeof *fields);
    reader->each_of = fw_alloc(farm->field_count, sizeof *reader->each_of);
    if (!fields || !reader->each_of) {
        fw_free(fields);
        return fw_fail_memory(err);
    }
    for (size_t i = 0; i < farm->field_count; i++)
        if (order->wanted[i] && !order->taken[i])
            order->field[order->count++] = i;
    for (size_t i = 0; i < order->count; i++) {
        fields[i] = farm->fields[order->field[i]];
        farm->fields[order->field[i]] = (struct fw_farm_field){0};
        reader->each_of[i] = order->each[order->field[i]];
    }
    for (size_t i = 0; i < farm->field_count; i++)
        fw_farm__field_release(&farm->fields[i]);
    memcpy(farm->fields, fields, order->count * sizeof *fields);
    farm->field_count = order->count;
    fw_free(fields);
    return FW_OK;
}

enum fw_status fw_farm__arrange(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    struct fw_farm *farm = reader->farm;
    struct fw_farm__names names = {0};
    struct order order = {0};
    enum fw_status status =
        fw_farm__names_init(&names, farm->field_count + farm->whole_count, err);
    if (!status)
        status = make_unique(farm, &names, err);
    if (!status) {
        name_wholes(farm, &names);
        status = put_covers(reader, &names, err);
    }
    if (!status)
        status = order_init(&order, farm->field_count, err);
    if (!status)
        status = choose(reader, &names, &order, err);
    for (size_t i = 0; !status && i < reader->draft.each_count; i++)
        status = put_each(reader, &names, &order, i, err);
    if (!status)
        status = apply(reader, &order, err);
    order_release(&order);
    fw_farm__names_release(&names);
    return status;
}
