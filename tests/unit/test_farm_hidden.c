/* A password in the name of a source is used and never shown, wherever in the
 * farm the source is told. */
#include "test.h"

#include "keys/reader.h"

#include <string.h>

static const char *const told = "PG:dbname=farm password=wool";

static void no_source_shows_its_password(void **state)
{
    (void)state;
    const struct fw_farm_request request = {.farm_path = NULL};
    for (int which = 0; which < 4; which++) {
        struct fw_farm__map maps[2] = {{.source = {.text = NULL}}};
        struct fw_farm__reader *reader = fw_farm__reader_new(&request, NULL);
        struct fw_error err;
        assert_non_null(reader);
        struct fw_farm__draft *draft = &reader->draft;
        struct fw_farm__text *const places[] = {
            &draft->source, &draft->dem.source, &draft->forage_map.source,
            &maps[1].source};
        struct fw_farm__text *source = places[which];
        draft->maps = maps;
        draft->map_count = 2;
        source->text = told;
        source->at.given = true;
        assert_int_equal(fw_farm__hide(reader, &err), FW_OK);
        assert_null(strstr(source->text, "wool"));
        assert_non_null(strstr(source->text, "PG:dbname=farm"));
        /* Opened by what was told. */
        const char *opened;
        assert_int_equal(fw_farm__source(reader, source, &opened, &err), FW_OK);
        assert_string_equal(opened, told);
        draft->maps = NULL;
        fw_farm__reader_free(reader);
    }
}

/* A name without one stays the text that it is. */
static void a_name_without_a_password_is_shown_as_told(void **state)
{
    (void)state;
    const struct fw_farm_request request = {.farm_path = NULL};
    struct fw_farm__reader *reader = fw_farm__reader_new(&request, NULL);
    struct fw_error err;
    static const char name[] = "fields.gpkg";
    assert_non_null(reader);
    reader->draft.source.text = name;
    reader->draft.source.at.given = true;
    assert_int_equal(fw_farm__hide(reader, &err), FW_OK);
    assert_ptr_equal(reader->draft.source.text, name);
    assert_null(reader->draft.source.secret);
    fw_farm__reader_free(reader);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_source_shows_its_password),
        cmocka_unit_test(a_name_without_a_password_is_shown_as_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
