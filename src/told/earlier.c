/* The plan made before: read once, and its fences as places. */
#include "keys/schema.h"

#include "base/alloc.h"
#include "base/text.h"
#include "figures/mark.h"
#include "geo/points.h"
#include "plan/plan.h"
#include "store/store.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* People read lengths in whole metres. */
static const double rounding_m = 0.5;

/* The path may be that of its folder. */
static enum fw_status add_input(struct fw_inputs *inputs, const char *path,
                                struct fw_error *err)
{
    struct stat info;
    char file[4096];
    if (stat(path, &info) || !S_ISDIR(info.st_mode))
        return fw_inputs_add(inputs, path, err);
    snprintf(file, sizeof file, "%s/plan.json", path);
    return fw_inputs_add(inputs, file, err);
}

enum fw_status fw_farm__earlier(struct fw_farm__reader *reader,
                                struct fw_error *err)
{
    const struct fw_farm__text *told = &reader->draft.earlier;
    struct fw_farm *farm = reader->farm;
    const char *path;
    if (!told->at.given)
        return FW_OK;
    enum fw_status status = fw_farm__source(reader, told, &path, err);
    if (!status) {
        farm->earlier_path = fw_strdup(told->text);
        status = farm->earlier_path ? FW_OK : fw_fail_memory(err);
    }
    /* The other files of that plan are nothing to this one. */
    if (!status)
        status = fw_plan_json_read(path, &farm->earlier, NULL, err);
    if (!status)
        status = add_input(&farm->inputs, path, err);
    return status == FW_EINPUT
               ? fw_farm__fail_at(reader, &told->at, "earlier", err)
               : status;
}

/* ---- names ---- */

static size_t name_length(const char *text)
{
    return strcspn(text, "@");
}

static size_t digits_at(const char *text)
{
    return strspn(text, "0123456789");
}

/* "A07-08", "A07-08.2", "B-line-1": as plans name their fences. */
static bool looks_like_fence(const char *text)
{
    static const char *const kinds[] = {"line-", "lane-", "side-", "edge-",
                                        "inner-"};
    const char *at = text;
    while (isupper((unsigned char)*at))
        at++;
    if (at == text)
        return false;
    const size_t number = digits_at(at);
    at += number;
    if (*at++ != '-')
        return false;
    for (size_t i = 0; number == 0 && i < sizeof kinds / sizeof *kinds; i++)
        if (strncmp(at, kinds[i], strlen(kinds[i])) == 0) {
            at += strlen(kinds[i]);
            break;
        }
    const size_t last = digits_at(at);
    at += last;
    if (*at == '.')
        at += 1 + digits_at(at + 1);
    return last > 0 && (*at == '\0' || *at == '@');
}

static size_t fence_called(const struct fw_plan *plan, const char *text)
{
    const size_t length = name_length(text);
    for (size_t i = 0; plan && i < plan->fence_count; i++)
        if (strncmp(plan->fences[i].id, text, length) == 0 &&
            plan->fences[i].id[length] == '\0')
            return i;
    return FW_NONE;
}

bool fw_farm__is_fence(const struct fw_farm__reader *reader, const char *text)
{
    return fence_called(reader->farm->earlier, text) != FW_NONE ||
           looks_like_fence(text);
}

static size_t alike(const char *a, const char *b)
{
    size_t n = 0;
    while (a[n] && a[n] == b[n])
        n++;
    return n;
}

static enum fw_status no_such_fence(const struct fw_farm__reader *reader,
                                    const char *text, struct fw_error *err)
{
    enum { shown = FW_EFFORT(4) };
    const struct fw_plan *plan = reader->farm->earlier;
    struct fw_text list = {0};
    size_t most = 0, count = 0;
    for (size_t i = 0; i < plan->fence_count; i++) {
        const size_t here = alike(plan->fences[i].id, text);
        most = here > most ? here : most;
    }
    for (size_t i = 0; i < plan->fence_count && count < shown; i++)
        if (alike(plan->fences[i].id, text) == most)
            fw_text_addf(&list, "%s%s", count++ ? ", " : "",
                         plan->fences[i].id);
    fw_fail(err, FW_EINPUT, "%.80s has no fence %.*s; expected such as %s",
            reader->farm->earlier_path, (int)name_length(text), text,
            count && !list.failed ? list.bytes : "A01-02");
    fw_text_release(&list);
    return FW_EINPUT;
}

enum fw_status fw_farm__find_fence(const struct fw_farm__reader *reader,
                                   const char *text, size_t *out,
                                   struct fw_error *err)
{
    char say[FW_FARM_KEY_WORDS];
    if (!reader->farm->earlier)
        return fw_fail(err, FW_EINPUT,
                       "%.*s is the name of a fence; say which plan it is of: "
                       "%s",
                       (int)name_length(text), text,
                       fw_farm__tell("earlier", 0, say));
    *out = fence_called(reader->farm->earlier, text);
    return *out == FW_NONE ? no_such_fence(reader, text, err) : FW_OK;
}

enum fw_status fw_farm__check_fence(const struct fw_farm__reader *reader,
                                    const struct fw_field *field,
                                    const char *text, struct fw_error *err)
{
    const struct fw_plan *plan = reader->farm->earlier;
    const size_t index = fence_called(plan, text);
    if (index == FW_NONE)
        return FW_OK;
    const struct fw_plan_fence *fence = &plan->fences[index];
    const char *name = plan->fields[fence->field].name;
    if (strcmp(name, field->name) == 0)
        return FW_OK;
    return fw_fail(
        err, FW_EINPUT,
        "%s is a fence of field \"%.80s\"; expected one of \"%.80s\"",
        fence->id, name, field->name);
}

/* ---- places ---- */

static double step_m(const struct fw_plan_field *field,
                     const struct fw_plan_fence *fence, size_t i)
{
    const struct fw_point a = field->vertices[fence->line[i]].plane;
    const struct fw_point b = field->vertices[fence->line[i + 1]].plane;
    return fw_point_apart_m(b, a);
}

/* Lengths are told as they are on the earth, a little more or less than in the
 * plane. */
static struct fw_lonlat place_along(const struct fw_plan_field *field,
                                    const struct fw_plan_fence *fence,
                                    double along_m)
{
    double plane_m = 0;
    for (size_t i = 0; i + 1 < fence->line_count; i++)
        plane_m += step_m(field, fence, i);
    double rest_m =
        fence->length_m > 0 ? plane_m * fmin(1, along_m / fence->length_m) : 0;
    for (size_t i = 0; i + 1 < fence->line_count; i++) {
        const double here_m = step_m(field, fence, i);
        const struct fw_point a = field->vertices[fence->line[i]].plane;
        const struct fw_point b = field->vertices[fence->line[i + 1]].plane;
        if (rest_m <= here_m && here_m > 0) {
            const double t = rest_m / here_m;
            const struct fw_point at = {a.x_m + t * (b.x_m - a.x_m),
                                        a.y_m + t * (b.y_m - a.y_m)};
            return fw_plane_inverse(&field->plane, at);
        }
        rest_m -= here_m;
    }
    return field->vertices[fence->line[fence->line_count - 1]].lonlat;
}

enum fw_status fw_farm__on_fence(struct fw_farm__reader *reader,
                                 const char *text, struct fw_lonlat *out,
                                 struct fw_error *err)
{
    const char *at = text + name_length(text);
    size_t index = 0;
    double along_m = 0;
    enum fw_status status = fw_farm__find_fence(reader, text, &index, err);
    if (status)
        return status;
    const struct fw_plan *plan = reader->farm->earlier;
    const struct fw_plan_fence *fence = &plan->fences[index];
    if (!*at)
        return fw_fail(err, FW_EINPUT,
                       "%s is a whole fence; expected how far along it from "
                       "its end A, such as %s@%.0fm",
                       fence->id, fence->id, floor(fence->length_m / 2));
    status = fw_farm__quantity(reader, at + 1, FW_KIND_LENGTH, &along_m, err);
    if (status)
        return status;
    if (!(along_m >= 0 && along_m <= fence->length_m + rounding_m))
        return fw_fail(err, FW_EINPUT,
                       "%s is %.1f m long from its end A; %.1f m is beyond its "
                       "%s",
                       fence->id, fence->length_m, along_m,
                       along_m < 0 ? "beginning" : "end");
    *out = place_along(&plan->fields[fence->field], fence, along_m);
    return FW_OK;
}
