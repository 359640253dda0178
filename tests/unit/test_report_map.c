/* map.html: the plan in it is JSON that says what the plan says; nothing in it
 * ends the script that it stands in; its policy names what it may load. What it
 * shows in a browser, tests/page looks at. */
#include "sample_plan.h"

#include "io/io.h"
#include "report/reports.h"

#include <json-c/json.h>
#include <stdlib.h>
#include <string.h>

static char *page_of(const char *tiles)
{
    struct fw_error err;
    char *page = NULL;
    size_t count = 0;
    if (fw_report_map_page(plan, tiles, &page, &count, &err))
        fail_msg("%s", err.text);
    assert_int_equal(strlen(page), count);
    return page;
}

static char *between(const char *page, const char *begin, const char *end)
{
    const char *from = strstr(page, begin);
    assert_non_null(from);
    from += strlen(begin);
    const char *to = strstr(from, end);
    assert_non_null(to);
    char *found = calloc((size_t)(to - from) + 1, 1);
    assert_non_null(found);
    memcpy(found, from, (size_t)(to - from));
    return found;
}

static struct json_object *member(struct json_object *of, const char *name)
{
    struct json_object *found = NULL;
    assert_true(json_object_object_get_ex(of, name, &found));
    return found;
}

static struct json_object *plan_in(const char *page)
{
    char *json = between(page, "<script type=\"application/json\" id=\"plan\">",
                         "</script>");
    struct json_object *read = json_tokener_parse(json);
    free(json);
    assert_non_null(read);
    return read;
}

static void the_plan_in_it_is_whole(void **state)
{
    (void)state;
    char *page = page_of(NULL);
    struct json_object *read = plan_in(page);
    assert_int_equal(json_object_array_length(member(read, "cells")),
                     plan->paddock_count + plan->lane_count);
    assert_int_equal(json_object_array_length(member(read, "fences")),
                     plan->fence_count);
    assert_int_equal(json_object_array_length(member(read, "moves")),
                     plan->time.move_count);
    const int last = plan->time.moves[plan->time.move_count - 1].day;
    assert_int_equal(json_object_array_length(member(read, "days")),
                     last - plan->start_day + 1);
    json_object_put(read);
    fw_bytes_free(page);
}

/* Its whole hundred-millionths, back into degrees. */
static void its_points_are_those_of_the_fields(void **state)
{
    (void)state;
    char *page = page_of(NULL);
    struct json_object *read = plan_in(page);
    for (size_t i = 0; i < plan->field_count; i++) {
        struct json_object *field =
            json_object_array_get_idx(member(read, "fields"), i);
        struct json_object *points = member(field, "points");
        const double lon = json_object_get_double(
            json_object_array_get_idx(member(field, "from"), 0));
        const double lat = json_object_get_double(
            json_object_array_get_idx(member(field, "from"), 1));
        assert_int_equal(json_object_array_length(points),
                         2 * plan->fields[i].vertex_count);
        for (size_t k = 0; k < plan->fields[i].vertex_count; k++) {
            const struct fw_lonlat at = plan->fields[i].vertices[k].lonlat;
            const double east = (double)json_object_get_int64(
                json_object_array_get_idx(points, 2 * k));
            const double north = (double)json_object_get_int64(
                json_object_array_get_idx(points, 2 * k + 1));
            assert_near(lon + east / 1e8, at.lon_deg, 1e-8);
            assert_near(lat + north / 1e8, at.lat_deg, 1e-8);
        }
    }
    json_object_put(read);
    fw_bytes_free(page);
}

static void a_name_ends_no_script(void **state)
{
    (void)state;
    static char nasty[] = "</script><!-- <b>\"'&";
    char *name = plan->fields[0].name, *farm_name = plan->farm_name;
    plan->fields[0].name = plan->farm_name = nasty;
    char *page = page_of(NULL);
    plan->fields[0].name = name;
    plan->farm_name = farm_name;
    char *title = between(page, "<title>", "</title>");
    assert_string_equal(title, "&lt;/script>&lt;!-- &lt;b>\"'&amp;");
    struct json_object *read = plan_in(page);
    struct json_object *field =
        json_object_array_get_idx(member(read, "fields"), 0);
    assert_string_equal(json_object_get_string(member(field, "name")), nasty);
    assert_string_equal(json_object_get_string(member(read, "farm")), nasty);
    json_object_put(read);
    free(title);
    fw_bytes_free(page);
}

static void its_policy_lets_nothing_in(void **state)
{
    (void)state;
    char *page = page_of(NULL);
    char *policy = between(page, "Security-Policy\" content=\"", "\">");
    assert_true(strncmp(policy, "default-src 'none'; ", 20) == 0);
    assert_null(strstr(policy, "unsafe"));
    assert_null(strstr(policy, "http"));
    assert_null(strstr(policy, "img-src"));
    assert_null(strstr(page, "sourceMappingURL"));
    assert_non_null(strstr(page, "Vladimir Agafonkin"));
    assert_non_null(strstr(page, "Redistributions in binary form"));
    free(policy);
    fw_bytes_free(page);
}

static void tiles_come_from_their_own_address_alone(void **state)
{
    (void)state;
    char *page = page_of("https://maps.example:8080/t/{z}/{x}/{y}.png?a=<b>");
    char *policy = between(page, "Security-Policy\" content=\"", "\">");
    assert_non_null(
        strstr(policy, "; img-src data: https://maps.example:8080"));
    assert_null(strstr(policy, "/t/"));
    struct json_object *read = plan_in(page);
    assert_string_equal(json_object_get_string(member(read, "tiles")),
                        "https://maps.example:8080/t/{z}/{x}/{y}.png?a=<b>");
    json_object_put(read);
    free(policy);
    fw_bytes_free(page);
}

static void what_is_no_tile_address_is_refused(void **state)
{
    (void)state;
    static const char *const wrong[] = {
        "",
        "maps.example/{z}/{x}/{y}.png",
        "ftp://maps.example/{z}/{x}/{y}.png",
        "https:///{z}/{x}/{y}.png",
        "https://maps.example",
        "https://maps.example/{z}/{x}.png",
        "https://maps.example; script-src */{z}/{x}/{y}.png",
        "https://user@maps.example/{z}/{x}/{y}.png",
        "https://{s}.maps.example/{z}/{x}/{y}.png",
        "https://maps.example\"/{z}/{x}/{y}.png",
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        struct fw_error err;
        char *page = NULL;
        size_t count = 0;
        assert_int_equal(
            fw_report_map_page(plan, wrong[i], &page, &count, &err), FW_EUSAGE);
        assert_null(page);
        assert_non_null(strstr(err.text, "https://maps.example/{z}/{x}/{y}"));
    }
}

static void the_same_plan_gives_the_same_page(void **state)
{
    (void)state;
    char *one = page_of(NULL), *other = page_of(NULL);
    assert_string_equal(one, other);
    fw_bytes_free(one);
    fw_bytes_free(other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_in_it_is_whole),
        cmocka_unit_test(its_points_are_those_of_the_fields),
        cmocka_unit_test(a_name_ends_no_script),
        cmocka_unit_test(its_policy_lets_nothing_in),
        cmocka_unit_test(tiles_come_from_their_own_address_alone),
        cmocka_unit_test(what_is_no_tile_address_is_refused),
        cmocka_unit_test(the_same_plan_gives_the_same_page),
    };
    return cmocka_run_group_tests(tests, read_sample, free_sample);
}
