/* plan.json, written by walking the tables of members. One line for each
 * member of the plan, and for each row of its arrays, so that two plans
 * compare line by line. */
#include "base/alloc.h"
#include "base/fail.h"
#include "base/text.h"
#include "store/labels.h"
#include "store/members.h"
#include "store/store.h"
#include <foldwright/date.h>

#include <math.h>
#include <string.h>

struct writer {
    struct fw_text text;
    const struct fw_plan *plan;
    struct fw_io__labels labels[FW_IO__TARGETS];
    struct fw_io__rule *rules;
    size_t rule_count;
    size_t *posts;      /* of the plan, fence after fence */
    size_t *posts_ends; /* by fence: where its own end among these */
};

static void write_members(struct writer *to, const struct fw_io__kind *kind,
                          const void *from);

/* -0 would come back as 0, and the plan would differ from itself. */
static void number(struct writer *to, double value)
{
    fw_text_add_number(&to->text, value + 0.0);
}

static void null(struct writer *to)
{
    fw_text_add(&to->text, "null");
}

/* Within 10 um, whatever a map is in: degrees and kilometres are small numbers,
 * metres and feet large ones. */
static void file_units(struct writer *to, double value)
{
    const double small = 1e5;
    fw_text_add_fixed(&to->text, value + 0.0, fabs(value) < small ? 10 : 5);
}

static void size(struct writer *to, size_t value)
{
    if (value == FW_NONE)
        null(to);
    else
        fw_text_addf(&to->text, "%zu", value);
}

static void string(struct writer *to, const char *value)
{
    if (value)
        fw_text_add_json(&to->text, value);
    else
        null(to);
}

static void day(struct writer *to, int value)
{
    char date[FW_DATE_TEXT];
    string(to, value == FW_NO_DAY ? NULL : fw_date_write(value, date));
}

static void bits(struct writer *to, const struct fw_io__member *member,
                 unsigned value)
{
    const char *before = "";
    fw_text_add(&to->text, "[");
    for (size_t i = 0; i < member->word_count; i++) {
        if (!(value & 1u << i))
            continue;
        fw_text_add(&to->text, before);
        string(to, member->words[i]);
        before = ", ";
    }
    fw_text_add(&to->text, "]");
}

static void sizes(struct writer *to, enum fw_io__untold untold,
                  const size_t *items, size_t count)
{
    fw_text_add(&to->text, "[");
    for (size_t i = 0; i < count; i++) {
        fw_text_add(&to->text, i ? "," : "");
        size(to, untold == FW_IO__IF_ZERO && !items[i] ? FW_NONE : items[i]);
    }
    fw_text_add(&to->text, "]");
}

static void rings(struct writer *to, const struct fw_plan_rings *from)
{
    fw_text_add(&to->text, "[");
    for (size_t p = 0; p < from->piece_count; p++) {
        fw_text_add(&to->text, p ? ", [" : "[");
        for (size_t r = from->piece_ring[p]; r < from->piece_ring[p + 1]; r++) {
            fw_text_add(&to->text, r > from->piece_ring[p] ? "," : "");
            sizes(to, FW_IO__TOLD, from->vertices + from->ring_start[r],
                  from->ring_start[r + 1] - from->ring_start[r]);
        }
        fw_text_add(&to->text, "]");
    }
    fw_text_add(&to->text, "]");
}

static void array(struct writer *to, const struct fw_io__kind *kind,
                  const char *items, size_t count, const char *between)
{
    fw_text_add(&to->text, "[");
    for (size_t i = 0; i < count; i++) {
        fw_text_add(&to->text, i ? "," : "");
        fw_text_add(&to->text, between);
        write_members(to, kind, items + i * kind->size);
    }
    fw_text_add(&to->text, "]");
}

/* ---- by type ---- */

/* One figure, text or word; false: the type is none. */
static bool write_simple(struct writer *to, const struct fw_io__member *member,
                         const char *from)
{
    double value = 0;
    const bool told =
        member->type <= FW_IO__DAY && fw_io__number_of(member, from, &value);
    switch (member->type) {
    case FW_IO__NUMBER:
    case FW_IO__INT:
    case FW_IO__UNSIGNED:
    case FW_IO__SIZE:
        told ? number(to, value) : null(to);
        return true;
    case FW_IO__DEGREES:
        fw_text_add_fixed(&to->text, value + 0.0, 10);
        return true;
    case FW_IO__METRES:
        fw_text_add_fixed(&to->text, value + 0.0, 5);
        return true;
    case FW_IO__FILE_UNITS:
        file_units(to, value);
        return true;
    case FW_IO__BOOL:
        fw_text_add(&to->text, from[member->at] ? "true" : "false");
        return true;
    case FW_IO__DAY:
        day(to, told ? (int)value : FW_NO_DAY);
        return true;
    case FW_IO__TEXT:
    case FW_IO__STRING:
    case FW_IO__SOURCE:
    case FW_IO__WORD:
    case FW_IO__REF:
        string(to, fw_io__words_of(member, from, to->labels));
        return true;
    case FW_IO__BITS:
        bits(to, member, (unsigned)fw_io__int_at(from + member->at));
        return true;
    default:
        return false;
    }
}

static void refs(struct writer *to, enum fw_io__target target,
                 const struct fw_list *list)
{
    fw_text_add(&to->text, "[");
    for (size_t i = 0; i < list->count; i++) {
        fw_text_add(&to->text, i ? ", " : "");
        string(to,
               to->labels[target].items[to->plan->time.items[list->first + i]]);
    }
    fw_text_add(&to->text, "]");
}

/* Signs come after all posts of all lines. */
static enum fw_status sort_posts(struct writer *to, struct fw_error *err)
{
    const struct fw_plan *plan = to->plan;
    to->posts = fw_alloc(plan->post_count, sizeof *to->posts);
    to->posts_ends = fw_alloc(plan->fence_count + 1, sizeof *to->posts_ends);
    if (!to->posts || !to->posts_ends)
        return fw_fail_memory(err);
    for (size_t i = 0; i < plan->post_count; i++)
        to->posts_ends[plan->posts[i].fence + 1]++;
    for (size_t i = 0; i < plan->fence_count; i++)
        to->posts_ends[i + 1] += to->posts_ends[i];
    for (size_t i = 0; i < plan->post_count; i++)
        to->posts[to->posts_ends[plan->posts[i].fence]++] = i;
    return FW_OK;
}

static void posts(struct writer *to, const struct fw_plan_fence *fence)
{
    const size_t index = (size_t)(fence - to->plan->fences);
    const size_t first = index ? to->posts_ends[index - 1] : 0;
    fw_text_add(&to->text, "[");
    for (size_t i = first; i < to->posts_ends[index]; i++) {
        fw_text_add(&to->text, i > first ? "," : "");
        write_members(to, &fw_io__post_kind, &to->plan->posts[to->posts[i]]);
    }
    fw_text_add(&to->text, "]");
}

/* What is said beyond the words of the rule. */
static void said(struct writer *to, const struct fw_plan_finding *finding)
{
    const size_t rule =
        fw_io__rule_find(to->rules, to->rule_count, finding->rule);
    const char *rest = finding->text + strlen(to->rules[rule].text);
    string(to, *rest ? rest : NULL);
}

static void write_nested(struct writer *to, const struct fw_io__member *member,
                         const char *from, const char *at)
{
    switch (member->type) {
    case FW_IO__OBJECT:
        if (member->untold == FW_IO__IF_UNKNOWN && !from[member->known])
            null(to);
        else
            write_members(to, member->of, at);
        return;
    case FW_IO__PLACE:
        if (((const struct fw_plan_place *)(const void *)at)->given)
            write_members(to, &fw_io__place_kind, at);
        else
            null(to);
        return;
    case FW_IO__PACED:
        if (((const struct fw_plan_paced *)(const void *)at)->by)
            write_members(to, &fw_io__paced_kind, at);
        else
            null(to);
        return;
    case FW_IO__RINGS:
        rings(to, (const void *)at);
        return;
    case FW_IO__REFS:
        refs(to, member->target, (const void *)at);
        return;
    case FW_IO__POSTS:
        posts(to, (const void *)from);
        return;
    case FW_IO__SAID:
        said(to, (const void *)from);
        return;
    case FW_IO__SIZES:
        sizes(to, member->untold, fw_io__pointer_at(at),
              fw_io__size_at(from + member->count));
        return;
    case FW_IO__ARRAY:
    case FW_IO__ARRAY_SAME:
        array(to, member->of, fw_io__pointer_at(at),
              fw_io__size_at(from + member->count),
              from == (const char *)to->plan ? "\n    " : "");
        return;
    default:
        null(to);
        return;
    }
}

static void write_value(struct writer *to, const struct fw_io__member *member,
                        const char *from)
{
    if (!write_simple(to, member, from))
        write_nested(to, member, from, from + member->at);
}

/* How many of the row's values are told. */
static size_t length_of(const struct fw_io__kind *kind, const char *from)
{
    const struct fw_io__member *members = kind->members;
    for (size_t i = kind->least; i < kind->count; i++)
        if (memcmp(from + members[i].at, from + members[i - kind->least].at,
                   sizeof(double)) != 0)
            return kind->count;
    return kind->least;
}

static void write_members(struct writer *to, const struct fw_io__kind *kind,
                          const void *from)
{
    const bool named = kind->least == 0;
    const size_t count = named ? kind->count : length_of(kind, from);
    fw_text_add(&to->text, named ? "{" : "[");
    for (size_t i = 0; i < count; i++) {
        fw_text_add(&to->text, i ? "," : "");
        if (named) {
            fw_text_add_json(&to->text, kind->members[i].name);
            fw_text_add(&to->text, ":");
        }
        write_value(to, &kind->members[i], from);
    }
    fw_text_add(&to->text, named ? "}" : "]");
}

/* ---- the whole ---- */

static void write_columns(struct writer *to)
{
    fw_text_add(&to->text, ",\n  \"columns\": {");
    for (size_t k = 0; k < FW_IO__ROW_KINDS; k++) {
        const struct fw_io__kind *kind = fw_io__columns[k].of;
        fw_text_addf(&to->text, "%s\n    \"%s\": [", k ? "," : "",
                     fw_io__columns[k].name);
        for (size_t i = 0; i < kind->count; i++) {
            fw_text_add(&to->text, i ? "," : "");
            string(to, kind->members[i].name);
        }
        fw_text_add(&to->text, "]");
    }
    fw_text_add(&to->text, "}");
}

static enum fw_status write_all(struct writer *to,
                                const struct fw_plan_file *files,
                                size_t file_count, struct fw_error *err)
{
    const struct fw_plan *plan = to->plan;
    fw_text_add(&to->text, "{\n  \"format\": \"" FW_IO__PLAN_FORMAT "\"");
    for (size_t i = 0; i < fw_io__plan_kind.count; i++) {
        const struct fw_io__member *member = &fw_io__plan_kind.members[i];
        fw_text_addf(&to->text, ",\n  \"%s\": ", member->name);
        write_value(to, member, (const char *)plan);
    }
    fw_text_add(&to->text, ",\n  \"rules\": ");
    array(to, &fw_io__rule_kind, (const char *)to->rules, to->rule_count,
          "\n    ");
    write_columns(to);
    fw_text_add(&to->text, ",\n  \"files\": ");
    array(to, &fw_io__file_kind, (const char *)files, file_count, "\n    ");
    fw_text_add(&to->text, "\n}\n");
    return fw_text_done(&to->text, err);
}

enum fw_status fw_plan_json_write(const struct fw_plan *plan,
                                  const struct fw_plan_file *files,
                                  size_t file_count, char **bytes,
                                  size_t *count, struct fw_error *err)
{
    struct writer to = {.text = {0}, .plan = plan};
    enum fw_status status =
        fw_io__rules_make(plan, &to.rules, &to.rule_count, err);
    if (!status)
        status = sort_posts(&to, err);
    for (int i = 0; i < FW_IO__TARGETS && !status; i++)
        status =
            fw_io__labels_make(&to.labels[i], plan, (enum fw_io__target)i, err);
    if (!status)
        status = write_all(&to, files, file_count, err);
    for (int i = 0; i < FW_IO__TARGETS; i++)
        fw_io__labels_release(&to.labels[i]);
    fw_free(to.rules);
    fw_free(to.posts);
    fw_free(to.posts_ends);
    if (status) {
        fw_text_release(&to.text);
        return status;
    }
    *bytes = to.text.bytes;
    *count = to.text.length;
    return FW_OK;
}
