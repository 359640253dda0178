/* Reading walks the tables of members twice: names that refer to something can
 * be looked up only when all that they may refer to has been read. */
#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "plan/post.h"
#include "store/reading.h"

#include <stdio.h>
#include <string.h>

static enum fw_status read_members(struct fw_io__reader *reader,
                                   const struct fw_io__kind *kind,
                                   struct json_object *from, char *to);

/* ---- lists ---- */

/* Zeroed room for the list's items, put into the struct, and their number. */
static enum fw_status make_list(struct fw_io__reader *reader,
                                const struct fw_io__member *member,
                                struct json_object *from, size_t size, char *to,
                                void **items)
{
    if (!json_object_is_type(from, json_type_array))
        return fw_io__want(reader, "a list");
    const size_t length = json_object_array_length(from);
    if ((double)length < member->least)
        return fw_fail(reader->err, FW_EINPUT,
                       "has %zu entries; expected at least %g", length,
                       member->least);
    *items = fw_alloc(length, size);
    if (!*items)
        return fw_fail_memory(reader->err);
    memcpy(to + member->at, items, sizeof *items);
    memcpy(to + member->count, &length, sizeof length);
    return FW_OK;
}

static enum fw_status read_sizes(struct fw_io__reader *reader,
                                 const struct fw_io__member *member,
                                 struct json_object *from, char *to)
{
    void *items = NULL;
    enum fw_status status =
        make_list(reader, member, from, sizeof(size_t), to, &items);
    for (size_t i = 0; !status && i < json_object_array_length(from); i++) {
        struct json_object *item = json_object_array_get_idx(from, i);
        if (item || member->untold != FW_IO__IF_ZERO)
            status =
                fw_io__read_size(reader, item, (char *)((size_t *)items + i));
    }
    return status;
}

/* How many rings and vertices there are, or what is no list. */
static enum fw_status measure_rings(struct fw_io__reader *reader,
                                    struct json_object *from, size_t *rings,
                                    size_t *vertices)
{
    *rings = *vertices = 0;
    if (!json_object_is_type(from, json_type_array))
        return fw_io__want(reader, "a list of pieces");
    for (size_t p = 0; p < json_object_array_length(from); p++) {
        struct json_object *piece = json_object_array_get_idx(from, p);
        if (!json_object_is_type(piece, json_type_array))
            return fw_io__want(reader, "pieces that are lists of rings");
        for (size_t r = 0; r < json_object_array_length(piece); r++) {
            struct json_object *ring = json_object_array_get_idx(piece, r);
            if (!json_object_is_type(ring, json_type_array))
                return fw_io__want(reader, "rings that are lists of vertices");
            *vertices += json_object_array_length(ring);
            ++*rings;
        }
    }
    return FW_OK;
}

static enum fw_status fill_ring(struct fw_io__reader *reader,
                                struct json_object *from,
                                struct fw_plan_rings *to)
{
    size_t at = to->ring_start[to->ring_count];
    for (size_t i = 0; i < json_object_array_length(from); i++) {
        enum fw_status status =
            fw_io__read_size(reader, json_object_array_get_idx(from, i),
                             (char *)&to->vertices[at++]);
        if (status)
            return status;
    }
    to->ring_start[++to->ring_count] = at;
    return FW_OK;
}

static enum fw_status read_rings(struct fw_io__reader *reader,
                                 struct json_object *from,
                                 struct fw_plan_rings *to)
{
    size_t rings, vertices;
    enum fw_status status = measure_rings(reader, from, &rings, &vertices);
    if (status)
        return status;
    const size_t pieces = json_object_array_length(from);
    to->vertices = fw_alloc(vertices, sizeof *to->vertices);
    to->ring_start = fw_alloc(rings + 1, sizeof *to->ring_start);
    to->piece_ring = fw_alloc(pieces + 1, sizeof *to->piece_ring);
    if (!to->vertices || !to->ring_start || !to->piece_ring)
        return fw_fail_memory(reader->err);
    for (size_t p = 0; p < pieces; p++) {
        struct json_object *piece = json_object_array_get_idx(from, p);
        for (size_t r = 0; r < json_object_array_length(piece); r++) {
            status = fill_ring(reader, json_object_array_get_idx(piece, r), to);
            if (status)
                return status;
        }
        to->piece_ring[++to->piece_count] = to->ring_count;
    }
    return FW_OK;
}

static enum fw_status read_rows(struct fw_io__reader *reader,
                                const struct fw_io__kind *kind,
                                struct json_object *from, char *items)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; !status && i < json_object_array_length(from); i++) {
        status = read_members(reader, kind, json_object_array_get_idx(from, i),
                              items + i * kind->size);
        if (status)
            fw_fail_where(reader->err, "[%zu]", i);
    }
    return status;
}

static enum fw_status read_array(struct fw_io__reader *reader,
                                 const struct fw_io__member *member,
                                 struct json_object *from, char *to, char *at)
{
    void *items = NULL;
    if (reader->refs) { /* they are there already */
        memcpy(&items, at, sizeof items);
        return read_rows(reader, member->of, from, items);
    }
    size_t before;
    memcpy(&before, to + member->count, sizeof before);
    if (member->type == FW_IO__ARRAY_SAME &&
        json_object_is_type(from, json_type_array) &&
        json_object_array_length(from) != before)
        return fw_fail(reader->err, FW_EINPUT, "has %zu rows; expected %zu",
                       json_object_array_length(from), before);
    enum fw_status status =
        make_list(reader, member, from, member->of->size, to, &items);
    if (status)
        return status;
    if (member->known) /* the capacity is the count */
        memcpy(to + member->known, to + member->count, sizeof(size_t));
    return read_rows(reader, member->of, from, items);
}

/* ---- structs ---- */

static enum fw_status read_place(struct fw_io__reader *reader,
                                 struct json_object *from, char *at)
{
    struct fw_plan_place *place = (void *)at;
    if (!from)
        return FW_OK;
    place->given = true;
    return read_members(reader, &fw_io__place_kind, from, at);
}

static enum fw_status read_paced(struct fw_io__reader *reader,
                                 struct json_object *from, char *at)
{
    struct fw_plan_paced *paced = (void *)at;
    *paced = (struct fw_plan_paced){.corner = FW_NONE,
                                    .towards = FW_NONE,
                                    .fence = FW_NONE,
                                    .bearing_deg = -1,
                                    .on_from = FW_NONE,
                                    .on_paces = -1};
    if (!from)
        return FW_OK;
    return read_members(reader, &fw_io__paced_kind, from, at);
}

/* A post's name and what it belongs to are its fence's. */
static enum fw_status read_posts(struct fw_io__reader *reader,
                                 struct json_object *from,
                                 struct fw_plan_fence *fence)
{
    struct fw_plan *plan = reader->plan;
    if (!json_object_is_type(from, json_type_array))
        return fw_io__want(reader, "a list of posts");
    const size_t count = json_object_array_length(from);
    size_t posts = 0, signs = 0; /* a sign is none that is carried out */
    enum fw_status status = fw_array_reserve(&plan->posts, &plan->post_capacity,
                                             plan->post_count + count,
                                             sizeof *plan->posts, reader->err);
    for (size_t i = 0; i < count && !status; i++) {
        struct fw_plan_post *post = &plan->posts[plan->post_count];
        *post = (struct fw_plan_post){.fence = (size_t)(fence - plan->fences)};
        post->place.given = true;
        status = read_members(reader, &fw_io__post_kind,
                              json_object_array_get_idx(from, i), (char *)post);
        size_t *number = post->why == FW_POST_SIGN ? &signs : &posts;
        fw_plan__post_id(post->id, fence->id, post->why, ++*number);
        if (status)
            fw_fail_where(reader->err, "[%zu] (post %s)", i, post->id);
        else
            plan->post_count++;
    }
    fence->posts = (int)posts;
    return status;
}

/* The words of its rule, and its own after them. */
static enum fw_status read_said(struct fw_io__reader *reader,
                                struct json_object *from,
                                struct fw_plan_finding *to)
{
    const size_t index =
        fw_io__rule_find(reader->rules, reader->rule_count, to->rule);
    if (index == FW_NONE)
        return fw_fail(reader->err, FW_EINPUT,
                       "its rule \"%s\" is not among the rules", to->rule);
    const struct fw_io__rule *rule = &reader->rules[index];
    const char *rest = from ? fw_io__text_of(reader, from) : "";
    if (!rest)
        return FW_EINPUT;
    const size_t length = strlen(rule->text) + strlen(rest);
    if (length >= sizeof to->text)
        return fw_fail(reader->err, FW_EINPUT,
                       "is %zu bytes long with the words of its rule; "
                       "expected at most %zu",
                       length, sizeof to->text - 1);
    snprintf(to->text, sizeof to->text, "%s%s", rule->text, rest);
    memcpy(to->source, rule->source, sizeof to->source);
    return FW_OK;
}

static enum fw_status read_object(struct fw_io__reader *reader,
                                  const struct fw_io__member *member,
                                  struct json_object *from, char *to, char *at)
{
    if (member->untold == FW_IO__IF_UNKNOWN) {
        memcpy(to + member->known, &(bool){from != NULL}, sizeof(bool));
        if (!from)
            return FW_OK;
    }
    return read_members(reader, member->of, from, at);
}

static enum fw_status read_member(struct fw_io__reader *reader,
                                  const struct fw_io__member *member,
                                  struct json_object *from, char *to)
{
    char *at = to + member->at;
    switch (member->type) {
    case FW_IO__REF: /* of the second walk */
    case FW_IO__REFS:
        return FW_OK;
    case FW_IO__OBJECT:
        return read_object(reader, member, from, to, at);
    case FW_IO__PLACE:
        return read_place(reader, from, at);
    case FW_IO__PACED:
        return read_paced(reader, from, at);
    case FW_IO__RINGS:
        return read_rings(reader, from, (void *)at);
    case FW_IO__POSTS:
        return read_posts(reader, from, (void *)to);
    case FW_IO__SAID:
        return read_said(reader, from, (void *)to);
    case FW_IO__SIZES:
        return read_sizes(reader, member, from, to);
    case FW_IO__ARRAY:
    case FW_IO__ARRAY_SAME:
        return read_array(reader, member, from, to, at);
    default:
        return fw_io__read_simple(reader, member, from, to, at);
    }
}

/* Names go to the end of the plan's items. */
static enum fw_status read_refs(struct fw_io__reader *reader,
                                const struct fw_io__member *member,
                                struct json_object *from, struct fw_list *to)
{
    struct fw_time *time = &reader->plan->time;
    if (!json_object_is_type(from, json_type_array))
        return fw_io__want(reader, "a list of names");
    const size_t count = json_object_array_length(from);
    enum fw_status status = fw_array_reserve(&time->items, &time->item_capacity,
                                             time->item_count + count,
                                             sizeof *time->items, reader->err);
    *to = (struct fw_list){time->item_count, 0};
    for (size_t i = 0; !status && i < count; i++) {
        size_t *item = &time->items[time->item_count];
        status = fw_io__read_ref(
            reader, member, json_object_array_get_idx(from, i), (char *)item);
        if (status)
            break;
        time->item_count++;
        to->count++;
    }
    return status;
}

static enum fw_status read_later(struct fw_io__reader *reader,
                                 const struct fw_io__member *member,
                                 struct json_object *from, char *to)
{
    if (member->type == FW_IO__REF)
        return fw_io__read_ref(reader, member, from, to + member->at);
    if (member->type == FW_IO__REFS)
        return read_refs(reader, member, from, (void *)(to + member->at));
    if (member->type == FW_IO__ARRAY)
        return read_array(reader, member, from, to, to + member->at);
    if (member->type == FW_IO__PACED && from)
        return read_members(reader, &fw_io__paced_kind, from, to + member->at);
    return FW_OK;
}

/* ".fields[2]" + ".corners" + ": expected ..." */
static enum fw_status say_member(const struct fw_io__reader *reader,
                                 const char *name)
{
    const char *text = reader->err->text;
    return fw_fail_where(reader->err, ".%s%s", name,
                         *text == '.' || *text == '[' || *text == ':' ? ""
                                                                      : ": ");
}

static enum fw_status read_value(struct fw_io__reader *reader,
                                 const struct fw_io__member *member,
                                 struct json_object *from, char *to)
{
    const enum fw_status status = reader->refs
                                      ? read_later(reader, member, from, to)
                                      : read_member(reader, member, from, to);
    return status ? say_member(reader, member->name) : FW_OK;
}

/* Values in the order of `columns`. A place without x and y has those of lon
 * and lat. */
static enum fw_status read_row(struct fw_io__reader *reader,
                               const struct fw_io__kind *kind,
                               struct json_object *from, char *to)
{
    unsigned lacking = 0;
    enum fw_status status = fw_io__check_row(reader, kind, from, &lacking);
    size_t next = 0;
    for (size_t i = 0; i < kind->count && !status; i++) {
        const struct fw_io__member *member = &kind->members[i];
        const bool is_there = !(lacking >> i & 1);
        if (is_there && next == json_object_array_length(from))
            memcpy(to + member->at, to + kind->members[i - kind->least].at,
                   sizeof(double));
        else
            status = read_value(
                reader, member,
                is_there ? json_object_array_get_idx(from, next++) : NULL, to);
    }
    return status;
}

static enum fw_status read_members(struct fw_io__reader *reader,
                                   const struct fw_io__kind *kind,
                                   struct json_object *from, char *to)
{
    if (kind->least > 0)
        return read_row(reader, kind, from, to);
    if (!json_object_is_type(from, json_type_object))
        return fw_fail(reader->err, FW_EINPUT, ": expected an object");
    for (size_t i = 0; i < kind->count; i++) {
        const struct fw_io__member *member = &kind->members[i];
        struct json_object *value = NULL;
        if (!json_object_object_get_ex(from, member->name, &value) &&
            !fw_io__may_be_null(member))
            return fw_fail(reader->err, FW_EINPUT, ".%s: is missing",
                           member->name);
        const enum fw_status status = read_value(reader, member, value, to);
        if (status)
            return status;
    }
    return FW_OK;
}

/* Findings name them, so that they come before all else. */
static enum fw_status read_rules(struct fw_io__reader *reader,
                                 struct json_object *root)
{
    struct json_object *from;
    if (!json_object_object_get_ex(root, "rules", &from) ||
        !json_object_is_type(from, json_type_array))
        return fw_fail(reader->err, FW_EINPUT, ".rules: expected a list");
    const size_t count = json_object_array_length(from);
    reader->rules = fw_alloc(count, sizeof *reader->rules);
    if (!reader->rules)
        return fw_fail_memory(reader->err);
    const enum fw_status status =
        read_rows(reader, &fw_io__rule_kind, from, (char *)reader->rules);
    if (status)
        return say_member(reader, "rules");
    for (size_t i = 0; i < count; i++) {
        if (fw_io__rule_find(reader->rules, i, reader->rules[i].rule) !=
            FW_NONE)
            return fw_io__wrong(reader->err, "rules", i, "rule",
                                "has the name of one before it");
        reader->rule_count++;
    }
    return FW_OK;
}

/* Sources are static texts of the tables that a plan was made with; a plan
 * that was read has them from its file instead. Its struct has no room for
 * them, so they stand behind the end of the text of its coordinate system,
 * which every plan has, and go with it. */
static enum fw_status keep_sources(struct fw_io__reader *reader,
                                   struct fw_plan *plan)
{
    if (!plan->crs)
        return fw_fail(reader->err, FW_EINPUT, ".crs: expected a text");
    size_t room = strlen(plan->crs) + 1;
    for (size_t i = 0; i < reader->source_count; i++)
        room += strlen(reader->sources[i].text) + 1;
    char *block = fw_realloc(plan->crs, room, 1);
    if (!block)
        return fw_fail_memory(reader->err);
    plan->crs = block;
    char *end = block + strlen(block) + 1;
    for (size_t i = 0; i < reader->source_count; i++) {
        const size_t length = strlen(reader->sources[i].text) + 1;
        memcpy(end, reader->sources[i].text, length);
        memcpy(reader->sources[i].at, &end, sizeof end);
        end += length;
    }
    return FW_OK;
}

/* What a replay needs to know of the gates. */
static enum fw_status make_openings(struct fw_plan *plan, struct fw_error *err)
{
    struct fw_time *time = &plan->time;
    const enum fw_status status =
        fw_array_reserve(&time->openings, &time->opening_capacity,
                         plan->gate_count, sizeof *time->openings, err);
    for (size_t i = 0; !status && i < plan->gate_count; i++) {
        const struct fw_plan_gate *gate = &plan->gates[i];
        time->openings[time->opening_count++] = (struct fw_opening){
            .kind = gate->where,
            .field = gate->field,
            .line = gate->fence,
            .door = FW_NONE,
            .from = gate->from,
            .to = gate->to,
            .move = FW_NONE,
            .at_m = gate->at_m,
            .width_m = gate->width_m,
            .open = gate->fence != FW_NONE && gate->on == FW_NO_DAY,
            .room_m = gate->room_m,
            .place = gate->place.plane,
        };
    }
    return status;
}

static enum fw_status fill(struct fw_io__reader *reader,
                           struct json_object *root)
{
    struct fw_plan *plan = reader->plan;
    enum fw_status status = fw_io__read_columns(reader, root);
    if (!status)
        status = read_rules(reader, root);
    if (!status)
        status = read_members(reader, &fw_io__plan_kind, root, (char *)plan);
    if (!status)
        status = keep_sources(reader, plan);
    for (int i = 0; i < FW_IO__TARGETS && !status; i++)
        status = fw_io__labels_make(&reader->labels[i], plan,
                                    (enum fw_io__target)i, reader->err);
    reader->refs = true;
    if (!status)
        status = read_members(reader, &fw_io__plan_kind, root, (char *)plan);
    return status;
}

enum fw_status fw_io__plan_fill(struct fw_plan *plan, struct json_object *root,
                                struct fw_error *err)
{
    struct fw_error own; /* the places in a message are put together in it */
    struct fw_io__reader reader = {.plan = plan, .err = err ? err : &own};
    enum fw_status status = fill(&reader, root);
    if (!status)
        status = fw_io__places(plan, reader.err);
    if (!status)
        status = make_openings(plan, err);
    fw_free(reader.rules);
    for (int i = 0; i < FW_IO__TARGETS; i++)
        fw_io__labels_release(&reader.labels[i]);
    return status;
}
