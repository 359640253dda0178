/* What a person should know. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"

enum fw_status fw_notes_add(struct fw_notes *notes, enum fw_level level,
                            const char *where, struct fw_error *err,
                            const char *format, ...)
{
    if (!notes)
        return FW_OK;
    enum fw_status status =
        fw_array_reserve(&notes->items, &notes->capacity, notes->count + 1,
                         sizeof *notes->items, err);
    if (status)
        return status;

    struct fw_text text = {0};
    va_list args;
    va_start(args, format);
    fw_text_addv(&text, format, args);
    va_end(args);
    char *copy = fw_strdup(where ? where : "");
    if (text.failed || !copy) {
        fw_free(copy);
        fw_text_release(&text);
        return fw_fail_memory(err);
    }
    fw_text_add(&text, "");
    fw_text_clean(text.bytes);
    notes->items[notes->count++] = (struct fw_note){
        .level = level, .where = fw_text_clean(copy), .text = text.bytes};
    return FW_OK;
}

const char *const fw_level_words[] = {[FW_LEVEL_NOTE] = "note",
                                      [FW_LEVEL_WARNING] = "warning",
                                      [FW_LEVEL_DANGER] = "danger"};

const char *fw_level_name(enum fw_level level)
{
    return fw_level_words[level];
}

void fw_notes_release(struct fw_notes *notes)
{
    if (!notes)
        return;
    for (size_t i = 0; i < notes->count; i++) {
        fw_free(notes->items[i].where);
        fw_free(notes->items[i].text);
    }
    fw_free(notes->items);
    *notes = (struct fw_notes){0};
}
