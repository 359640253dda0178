/* Where things came from. */
#include "base/origin.h"

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"

enum fw_status fw_inputs__add(struct fw_inputs *inputs, struct fw_input input,
                              struct fw_error *err)
{
    enum fw_status status =
        input.path ? fw_array_reserve(&inputs->items, &inputs->capacity,
                                      inputs->count + 1, sizeof input, err)
                   : fw_fail_memory(err);
    if (status)
        fw_free(input.path);
    else
        inputs->items[inputs->count++] = input;
    return status;
}

void fw_inputs_release(struct fw_inputs *inputs)
{
    for (size_t i = 0; i < inputs->count; i++)
        fw_free(inputs->items[i].path);
    fw_free(inputs->items);
    *inputs = (struct fw_inputs){0};
}

enum fw_status fw_inputs_copy(struct fw_inputs *to,
                              const struct fw_inputs *from,
                              struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < from->count && !status; i++) {
        struct fw_input copy = from->items[i];
        copy.path = fw_strdup(copy.path);
        status = fw_inputs__add(to, copy, err);
    }
    return status;
}

enum fw_status fw_told_add(struct fw_told *told, const char *key,
                           const char *value, struct fw_error *err)
{
    enum fw_status status =
        fw_array_reserve(&told->values, &told->capacity, told->count + 1,
                         sizeof *told->values, err);
    if (status)
        return status;
    struct fw_told_value *to = &told->values[told->count++];
    to->key = fw_strdup(key);
    to->value = fw_strdup(value);
    return to->key && to->value ? FW_OK : fw_fail_memory(err);
}

enum fw_status fw_told_copy(struct fw_told *to, const struct fw_told *from,
                            struct fw_error *err)
{
    enum fw_status status = FW_OK;
    if (from->folder && !(to->folder = fw_strdup(from->folder)))
        return fw_fail_memory(err);
    for (size_t i = 0; i < from->count && !status; i++)
        status =
            fw_told_add(to, from->values[i].key, from->values[i].value, err);
    return status;
}

void fw_told_release(struct fw_told *told)
{
    for (size_t i = 0; i < told->count; i++) {
        fw_free(told->values[i].key);
        fw_free(told->values[i].value);
    }
    fw_free(told->values);
    fw_free(told->folder);
    *told = (struct fw_told){0};
}

void fw_origin_release(struct fw_origin *origin)
{
    for (size_t i = 0; i < origin->copied_count; i++) {
        fw_free(origin->copied[i].column);
        fw_free(origin->copied[i].value);
    }
    fw_free(origin->copied);
    fw_free(origin->layer);
    *origin = (struct fw_origin){0};
}

static bool copy(const char *from, char **to)
{
    *to = from ? fw_strdup(from) : NULL;
    return *to || !from;
}

enum fw_status fw_origin_copy(const struct fw_origin *from,
                              struct fw_origin *to, struct fw_error *err)
{
    const size_t count = from->copied_count;
    *to = (struct fw_origin){
        .fid = from->fid,
        .copied = fw_alloc(count, sizeof *to->copied),
    };
    bool done = to->copied && copy(from->layer, &to->layer);
    for (size_t i = 0; done && i < count; i++) {
        to->copied_count = to->copied_capacity = i + 1;
        done = copy(from->copied[i].column, &to->copied[i].column) &&
               copy(from->copied[i].value, &to->copied[i].value);
    }
    return done ? FW_OK : fw_fail_memory(err);
}
