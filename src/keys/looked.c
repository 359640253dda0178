/* What a person has looked at around the fields, in place of a map. */
#include "keys/schema.h"

#include <string.h>

static enum fw_status one(const char *word, unsigned *what,
                          struct fw_error *err)
{
    enum fw_role role;
    if (strcmp(word, "steep") == 0) {
        *what |= FW_LOOKED_STEEP;
        return FW_OK;
    }
    const enum fw_status status = fw_safety_role_find(word, &role, err);
    if (status)
        return status;
    if (!fw_safety_is_checked(role))
        return fw_fail(err, FW_EINPUT,
                       "\"%s\" is nothing that is looked for; expected such as "
                       "road, path, power-line, telecom, building or steep",
                       word);
    *what |= 1U << role;
    return FW_OK;
}

/* A list of the file comes value by value, that of an option with commas. */
FW_SETTER(fw_farm__set_looked)
{
    struct fw_farm__looked *looked = to;
    enum fw_status status = FW_OK;
    do {
        char word[32];
        text += strspn(text, " ");
        const size_t length = strcspn(text, ",");
        if (length >= sizeof word)
            return fw_fail(err, FW_EINPUT,
                           "\"%.40s\" is no role of a map layer; expected such "
                           "as road",
                           text);
        memcpy(word, text, length);
        word[length] = '\0';
        for (size_t end = length; end > 0 && word[end - 1] == ' '; end--)
            word[end - 1] = '\0';
        status = one(word, &looked->what, err);
        text += length;
    } while (!status && *text++ == ',');
    return status;
}

enum fw_status fw_farm__looked(struct fw_farm__reader *reader,
                               struct fw_error *err)
{
    const struct fw_farm__draft *draft = &reader->draft;
    struct fw_farm *farm = reader->farm;
    char say[FW_FARM_KEY_WORDS];
    farm->looked = draft->looked.what;
    farm->looked_day =
        draft->looked_day.at.given ? (int)draft->looked_day.value : FW_NO_DAY;
    if (!draft->looked_day.at.given || farm->looked)
        return FW_OK;
    return fw_notes_add(reader->notes, FW_LEVEL_WARNING, "looked-on", err,
                        "a day without what was looked at; add such as %s",
                        fw_farm__tell("looked", 0, say));
}
