/* A farm file to begin with: what the map tells is written, what it cannot tell
 * gets a line with an example, in the order of what matters most, with how to
 * find it out. All of it is read by the same table of keys. */
#include "start/start.h"

#include "keys/keys.h"
#include "report/report.h"

#include <string.h>

/* ---- words ---- */

/* As a comment, each line of it. */
static void add_comment(struct fw_text *text, const struct fw_text *words)
{
    text->failed |= words->failed;
    if (words->failed || !words->bytes)
        return;
    for (const char *line = words->bytes; *line;) {
        const size_t length = strcspn(line, "\n");
        size_t seen = length;
        while (seen > 0 && line[seen - 1] == ' ')
            seen--;
        fw_text_add(text, seen > 0 ? "# " : "#");
        fw_text_add_bytes(text, line, seen);
        fw_text_add(text, "\n");
        line += length + (line[length] == '\n');
    }
}

static void comment(struct fw_text *text, size_t indent, const char *words)
{
    struct fw_text folded = {.columns = 76};
    fw_report_fold(&folded, indent, words);
    add_comment(text, &folded);
    fw_text_release(&folded);
}

static bool is_plain(const char *value)
{
    if (!*value || strchr(" -.", *value))
        return false;
    for (const char *c = value; *c; c++) {
        const bool letter = (*c >= 'a' && *c <= 'z') ||
                            (*c >= 'A' && *c <= 'Z') ||
                            (*c >= '0' && *c <= '9');
        if (!letter && !strchr(" .%/+-_@", *c) &&
            !(*c == ':' && c[1] && c[1] != ' '))
            return false;
    }
    return true;
}

/* A list in brackets as it stands: only an example has them. */
static void add_value(struct fw_text *text, const char *value)
{
    if (*value == '[' || is_plain(value))
        fw_text_add(text, value);
    else
        fw_text_add_json(text, value);
}

/* ---- keys ---- */

/* "flock" of "flock[].weight", "start" of itself. */
static size_t group_length(const char *path)
{
    return strcspn(path, ".[");
}

static bool is_one_group(const char *path, const char *other)
{
    const size_t length = group_length(path);
    return length == group_length(other) && strncmp(path, other, length) == 0;
}

/* "owns.wire" of "fence.owns.wire"; "" of a key without a group. */
static const char *within(const char *path)
{
    const char *rest = path + group_length(path);
    return *rest == '[' ? strchr(rest, '.') + 1 : *rest == '.' ? rest + 1 : "";
}

static const struct fw_farm_key *key_of(const char *path)
{
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(keys[i].path, path) == 0)
            return &keys[i];
    return NULL;
}

/* An option writes a list otherwise than a farm file. */
static bool is_list(const char *path)
{
    size_t count;
    const struct fw_farm_key *keys = fw_farm_keys(&count);
    const size_t length = strlen(path);
    for (size_t i = 0; i < count; i++)
        if (strncmp(keys[i].path, path, length) == 0 &&
            strncmp(keys[i].path + length, "[].", 3) == 0)
            return true;
    return false;
}

static const struct fw_farm_setting *told(const struct fw_start *start,
                                          const char *path)
{
    for (size_t i = start->told_count; i-- > 0;)
        if (strcmp(start->told[i].key, path) == 0)
            return &start->told[i];
    return NULL;
}

static bool is_asked(const char *path)
{
    size_t count;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    for (size_t i = 0; i < count; i++)
        if (is_one_group(asks[i].path, path))
            return true;
    return false;
}

/* ---- a group: one line ---- */

struct members {
    struct fw_text line; /* "head: 90, weight: 62 kg" */
    char inner[32];      /* the map within that is open: "owns" */
};

static void close_inner(struct members *members)
{
    if (members->inner[0])
        fw_text_add(&members->line, "}");
    members->inner[0] = '\0';
}

static void add_member(struct members *members, const char *path,
                       const char *value)
{
    const char *name = within(path);
    const char *dot = strchr(name, '.');
    const size_t inner = dot ? (size_t)(dot - name) : 0;
    if (!dot || strncmp(members->inner, name, inner) != 0)
        close_inner(members);
    if (members->line.length > 0)
        fw_text_add(&members->line, ", ");
    if (dot && !members->inner[0] && inner < sizeof members->inner) {
        memcpy(members->inner, name, inner);
        members->inner[inner] = '\0';
        fw_text_addf(&members->line, "%s: {", members->inner);
    }
    if (*name)
        fw_text_addf(&members->line, "%s: ", dot ? dot + 1 : name);
    add_value(&members->line, value);
}

/* "flock: [{head: 90}]", "start: 2026-05-04" */
static void add_group(struct fw_text *text, const char *mark, const char *path,
                      struct members *members)
{
    const bool list = path[group_length(path)] == '[';
    const bool map = *within(path);
    close_inner(members);
    text->failed |= members->line.failed;
    if (members->line.length > 0 && !members->line.failed)
        fw_text_addf(text, "%s%.*s: %s%s%s\n", mark, (int)group_length(path),
                     path,
                     list  ? "[{"
                     : map ? "{"
                           : "",
                     members->line.bytes,
                     list  ? "}]"
                     : map ? "}"
                           : "");
    fw_text_release(&members->line);
}

static const char *example(const struct fw_start *start,
                           const struct fw_start_ask *ask)
{
    return start->farm->units == FW_US && ask->us ? ask->us : ask->example;
}

/* With a side of the first field to count along, where it is asked for. */
static void add_how(struct fw_text *words, const struct fw_start *start,
                    const char *how)
{
    const struct fw_field *shape = start->farm->fields[0].shape;
    char length[FW_WORDS];
    size_t longest = 0;
    for (size_t i = 1; i < shape->corner_count; i++)
        if (fw_field_side_m(shape, i) > fw_field_side_m(shape, longest))
            longest = i;
    for (const char *c = how; *c; c++) {
        if (strncmp(c, "{side}", 6) == 0) {
            fw_text_addf(words, "side %zu", longest + 1);
            c += 5;
        } else if (strncmp(c, "{length}", 8) == 0) {
            fw_text_add(words, fw_report_length(fw_field_side_m(shape, longest),
                                                start->farm->units, length));
            c += 7;
        } else {
            fw_text_add_bytes(words, c, 1);
        }
    }
}

/* "weight: live weight of one of them. Weigh a few ... Else: ..." */
static void explain(struct fw_text *text, const struct fw_start *start,
                    const struct fw_start_ask *ask)
{
    const struct fw_farm_key *key = key_of(ask->path);
    const char *name = within(ask->path);
    struct fw_text words = {0};
    char room[FW_FARM_KEY_WORDS];
    const char *otherwise = fw_farm_key_otherwise(key, room);
    fw_text_addf(&words, "%s: %s. ", *name ? name : ask->path, key->help);
    add_how(&words, start, ask->how);
    if (otherwise)
        fw_text_addf(&words, " Not told: %s.", otherwise);
    text->failed |= words.failed;
    if (!words.failed)
        comment(text, 2, words.bytes);
    fw_text_release(&words);
}

/* What else was told of the group. */
static void add_others(struct members *known, const struct fw_start *start,
                       const char *path)
{
    size_t count;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    for (size_t i = 0; i < start->told_count; i++) {
        const struct fw_farm_setting *setting = &start->told[i];
        bool listed = told(start, setting->key) != setting;
        for (size_t k = 0; k < count; k++)
            listed |= strcmp(asks[k].path, setting->key) == 0;
        if (!listed && !is_list(setting->key) &&
            is_one_group(path, setting->key))
            add_member(known, setting->key, setting->value);
    }
}

/* The asks from `first` on that are of one group; the next one. */
static size_t ask_group(struct fw_text *text, const struct fw_start *start,
                        size_t first)
{
    size_t count, end = first;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    struct members open = {{0}, ""}, known = {{0}, ""};
    fw_text_add(text, "\n");
    for (; end < count && is_one_group(asks[first].path, asks[end].path);
         end++) {
        const struct fw_farm_setting *setting = told(start, asks[end].path);
        if (setting) {
            add_member(&known, asks[end].path, setting->value);
            continue;
        }
        explain(text, start, &asks[end]);
        add_member(&open, asks[end].path, example(start, &asks[end]));
    }
    add_others(&known, start, asks[first].path);
    if (known.line.length > 0 && open.line.length > 0) {
        close_inner(&open);
        if (!open.line.failed)
            fw_text_addf(text, "# Add to the line below: %s\n",
                         open.line.bytes);
        text->failed |= open.line.failed;
        fw_text_release(&open.line);
    }
    add_group(text, "", asks[first].path, &known);
    add_group(text, FW_START_MARK, asks[first].path, &open);
    return end;
}

/* ---- the file ---- */

static void head(struct fw_text *text, const struct fw_start *start)
{
    struct fw_text words = {0};
    fw_text_addf(
        &words,
        "A farm file, begun by `foldwright start`. A line that begins "
        "with #? waits for an answer: put your own in the place of the "
        "example, and take the #? away. They stand in the order of "
        "what matters most. After each, `foldwright check %s` says "
        "whether it was understood; after those of the flock, the "
        "grass and the start, `foldwright plan %s -o out/` makes a "
        "plan.",
        start->path, start->path);
    comment(text, 0, words.failed ? "" : words.bytes);
    text->failed |= words.failed;
    fw_text_release(&words);
    fw_text_add(text, "#\n");
    comment(text, 0, fw_report_first_words);
    fw_text_add(text, "\n");
}

/* Corners, sides and drawing of the fields, as check has them. */
static void drawings(struct fw_text *text, const struct fw_start *start)
{
    struct fw_text words = {0};
    fw_text_add(text, "# What the map tells:\n#\n");
    for (size_t i = 0; i < start->farm->field_count; i++)
        fw_report__field_seen(&words, start->farm, i);
    add_comment(text, &words);
    fw_text_release(&words);
    fw_text_add(text, "\n");
}

static void named_fields(struct fw_text *text, const struct fw_start *start)
{
    const struct fw_farm *farm = start->farm;
    if (farm->field_count < 2)
        return;
    fw_text_add(text, "  each:      # in the order in which they are grazed\n");
    for (size_t i = 0; i < farm->field_count; i++) {
        fw_text_add(text, "    - field: ");
        add_value(text, farm->fields[i].shape->name);
        fw_text_add(text, "\n      " FW_START_MARK "gate: corner:1\n"
                          "      " FW_START_MARK "water: corner:1\n");
    }
}

static void fields(struct fw_text *text, const struct fw_start *start)
{
    fw_text_add(text, "fields:\n  source: ");
    add_value(text, start->source);
    fw_text_add(text, "\n");
    for (size_t i = 0; i < start->told_count; i++)
        if (is_one_group("fields", start->told[i].key) &&
            told(start, start->told[i].key) == &start->told[i]) {
            fw_text_addf(text, "  %s: ", within(start->told[i].key));
            add_value(text, start->told[i].value);
            fw_text_add(text, "\n");
        }
    named_fields(text, start);
    fw_text_addf(
        text, "\nunits: %s%s\n", start->farm->units == FW_US ? "us" : "metric",
        start->guessed ? "      # a guess by where the fields lie" : "");
}

/* What was told and nobody asks for: a line for each group. */
static void others(struct fw_text *text, const struct fw_start *start)
{
    for (size_t i = 0; i < start->told_count; i++) {
        const struct fw_farm_setting *setting = &start->told[i];
        struct members known = {{0}, ""};
        bool first = true;
        if (is_asked(setting->key) || is_one_group("fields", setting->key) ||
            strcmp(setting->key, "units") == 0)
            continue;
        for (size_t k = 0; k < i; k++)
            first &= !is_one_group(start->told[k].key, setting->key);
        if (!first || is_list(setting->key))
            continue;
        fw_text_add(text, "\n");
        if (*within(setting->key))
            add_others(&known, start, setting->key);
        else
            add_member(&known, setting->key, setting->value);
        add_group(text, "", setting->key, &known);
    }
}

static void lists(struct fw_text *text, const struct fw_start *start)
{
    for (size_t i = 0; i < start->told_count; i++) {
        const struct fw_farm_setting *setting = &start->told[i];
        struct fw_text words = {0};
        if (!is_list(setting->key))
            continue;
        fw_text_addf(&words,
                     "Write under %s, as docs/guide/farm.md has it, what %s "
                     "said: %s",
                     setting->key, setting->where, setting->value);
        fw_text_add(text, "\n");
        comment(text, 2, words.failed ? "" : words.bytes);
        text->failed |= words.failed;
        fw_text_release(&words);
    }
}

static bool is_left_out(const struct fw_start *start, const char *path)
{
    const bool place = strcmp(path, "gate") == 0 || strcmp(path, "water") == 0;
    return place && start->farm->field_count > 1;
}

enum fw_status fw_start_write(const struct fw_start *start, char **out,
                              struct fw_error *err)
{
    size_t count;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    struct fw_text text = {0};
    head(&text, start);
    drawings(&text, start);
    fields(&text, start);
    for (size_t i = 0; i < count;)
        i = is_left_out(start, asks[i].path) ? i + 1
                                             : ask_group(&text, start, i);
    others(&text, start);
    lists(&text, start);
    return fw_report_give(&text, out, NULL, err);
}

enum fw_status fw_start_json(const struct fw_start *start, char **out,
                             struct fw_error *err)
{
    size_t count;
    const struct fw_start_ask *asks = fw_start_asks(&count);
    struct fw_text text = {0};
    fw_text_add(&text, "{\"farm_file\": ");
    fw_text_add_json(&text, start->path);
    fw_text_addf(&text, ", \"units\": \"%s\",\n \"asked\": [",
                 start->farm->units == FW_US ? "us" : "metric");
    bool first = true;
    for (size_t i = 0; i < count; i++) {
        if (told(start, asks[i].path) || is_left_out(start, asks[i].path))
            continue;
        fw_text_add(&text, first ? "\n  {\"key\": " : ",\n  {\"key\": ");
        first = false;
        fw_text_add_json(&text, asks[i].path);
        fw_text_add(&text, ", \"example\": ");
        fw_text_add_json(&text, example(start, &asks[i]));
        fw_text_add(&text, "}");
    }
    fw_text_add(&text, "\n]}\n");
    return fw_report_give(&text, out, NULL, err);
}
