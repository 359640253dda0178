/* map.html: one page with the plan in it, which opens from a disk without a
 * network. What it shows it has from the plan as JSON; the page's own script
 * sets all of that as text, so that a name is never more than a name. */
#include "page/map_page.h"

#include "base/fail.h"
#include "log/log.h"
#include "report/report.h"

#include <string.h>

/* ---- what is known of a tile address ---- */

static bool is_host_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           (c >= '0' && c <= '9') || c == '.' || c == '-' || c == ':';
}

/* Bytes of "https://host:port"; 0: it is no such address. */
static size_t origin_of(const char *tiles)
{
    const char *const schemes[] = {"https://", "http://"};
    for (size_t i = 0; i < sizeof schemes / sizeof *schemes; i++) {
        const size_t scheme = strlen(schemes[i]);
        size_t end = scheme;
        if (strncmp(tiles, schemes[i], scheme) != 0)
            continue;
        while (is_host_letter(tiles[end]))
            end++;
        return end > scheme && tiles[end] == '/' ? end : 0;
    }
    return 0;
}

enum fw_status fw_report_tiles_check(const char *tiles, struct fw_error *err)
{
    const char *const parts[] = {"{z}", "{x}", "{y}"};
    if (!origin_of(tiles))
        return fw_fail(err, FW_EUSAGE,
                       "\"%.200s\" is no address of map tiles; expected one "
                       "like https://maps.example/{z}/{x}/{y}.png",
                       tiles);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (!strstr(tiles, parts[i]))
            return fw_fail(err, FW_EUSAGE,
                           "\"%.200s\" does not say where %s goes; expected "
                           "an address like "
                           "https://maps.example/{z}/{x}/{y}.png",
                           tiles, parts[i]);
    return FW_OK;
}

/* Pictures come from there alone; data: is the empty one that Leaflet puts in
 * the place of a tile that is no longer wanted. */
static void policy(struct fw_text *page, const char *tiles)
{
    if (!tiles)
        return;
    fw_text_add(page, "; img-src data: ");
    fw_text_add_bytes(page, tiles, origin_of(tiles));
}

/* ---- the plan ---- */

static void title(struct fw_text *page, const char *words)
{
    for (const char *c = words; *c; c++)
        if (*c == '<')
            fw_text_add(page, "&lt;");
        else if (*c == '&')
            fw_text_add(page, "&amp;");
        else
            fw_text_add_bytes(page, c, 1);
}

/* So that no name ends the script that it stands in, or begins a comment. */
static void add_plain(struct fw_text *page, const struct fw_text *json)
{
    const char *from = json->bytes;
    for (const char *c = strchr(from, '<'); c; c = strchr(from, '<')) {
        fw_text_add_bytes(page, from, (size_t)(c - from));
        fw_text_add(page, "\\u003c");
        from = c + 1;
    }
    fw_text_add(page, from);
}

/* What `record` is told: the farm file by its name, or the plan's folder. */
static void record_of(struct fw_text *json, const struct fw_plan *plan)
{
    const char *of = "out/";
    for (size_t i = 0; i < plan->inputs.count; i++) {
        const char *path = plan->inputs.items[i].path;
        const char *name = strrchr(path, '/');
        const char *dot = strrchr(path, '.');
        if (dot && (strcmp(dot, ".yaml") == 0 || strcmp(dot, ".yml") == 0)) {
            of = name ? name + 1 : path;
            break;
        }
    }
    fw_text_add(json, ",\n\"record\":{\"of\":");
    fw_text_add_json(json, of);
    fw_text_add(json, ",\"left\":\"");
    static const char *const as[] = {[FW_LOG_AS_HEIGHT] = "height",
                                     [FW_LOG_AS_WORD] = "words",
                                     [FW_LOG_AS_SHARE] = "dormant"};
    fw_text_add(json, plan->paddock_count > 0 ? as[fw_log_said_as(plan, 0)]
                                              : as[FW_LOG_AS_WORD]);
    fw_text_addf(json, "\",\"head\":%d}", plan->flock.head);
}

static void dangers(struct fw_text *json, const struct fw_plan *plan)
{
    struct fw_text words = {.columns = FW_REPORT_UNFOLDED};
    fw_report_dangers(&words, plan, FW_NONE, false);
    json->failed |= words.failed;
    fw_text_add(json, ",\n\"dangers\":");
    fw_text_add_json(json, words.failed || !words.bytes ? "" : words.bytes);
    fw_text_release(&words);
}

static enum fw_status write_json(struct fw_text *json,
                                 const struct fw_plan *plan, const char *tiles,
                                 struct fw_error *err)
{
    fw_text_add(json, "{\"farm\":");
    fw_text_add_json(json, plan->farm_name);
    fw_text_add(json, ",");
    fw_report_first_json(json);
    fw_text_addf(json, ",\"us\":%s", plan->units == FW_US ? "true" : "false");
    if (tiles) {
        fw_text_add(json, ",\"tiles\":");
        fw_text_add_json(json, tiles);
    }
    dangers(json, plan);
    record_of(json, plan);
    fw_text_add(json, ",\n");
    fw_map_ground(json, plan);
    fw_text_add(json, ",\n");
    const enum fw_status status = fw_map_days(json, plan, err);
    fw_text_add(json, "}");
    if (!status && json->failed)
        return fw_fail_memory(err);
    return status;
}

static void put_together(struct fw_text *page, const struct fw_text *json,
                         const struct fw_plan *plan, const char *tiles)
{
    for (int i = 0; i <= FW_MAP_PARTS; i++) {
        const struct fw_map_part *part = &fw_page__map_parts[i];
        fw_text_add_bytes(page, (const char *)part->bytes, part->count);
        if (i == FW_MAP_PART_TITLE)
            title(page, plan->farm_name);
        else if (i == FW_MAP_PART_POLICY)
            policy(page, tiles);
        else if (i == FW_MAP_PART_PLAN)
            add_plain(page, json);
    }
}

enum fw_status fw_report_map_page(const struct fw_plan *plan, const char *tiles,
                                  char **out, size_t *count,
                                  struct fw_error *err)
{
    if (!plan || !out || !count)
        return fw_fail_null(err, "a plan, or where its page goes,");
    enum fw_status status = tiles ? fw_report_tiles_check(tiles, err) : FW_OK;
    if (status)
        return status;
    struct fw_text json = {0}, page = {0};
    status = write_json(&json, plan, tiles, err);
    if (status) {
        fw_text_release(&json);
        return status;
    }
    put_together(&page, &json, plan, tiles);
    fw_text_release(&json);
    return fw_report_give(&page, out, count, err);
}
