/* All that a farm can hold is given back with it, and what its moved fence has
 * to hold follows from its classes. Without the counting allocator of
 * guarded.c, the sanitizer that stands in its place looks for what is left. */
#include "test.h"

#include "base/alloc.h"
#include "farm/farm.h"

__attribute__((weak)) size_t guarded_held(void);

static size_t held(void)
{
    return guarded_held ? guarded_held() : 0;
}

/* Room for any struct, all 0: one that holds nothing. */
static void *empty(void)
{
    void *room = fw_alloc(1, 8192);
    assert_non_null(room);
    return room;
}

static char *text(void)
{
    char *copy = fw_strdup("a text");
    assert_non_null(copy);
    return copy;
}

static void fill_field(struct fw_farm_field *field, bool all_grazed)
{
    field->shape = empty();
    field->grazed = all_grazed ? field->shape : empty();
    field->source = text();
    field->crs = text();
    field->origin.layer = text();
    field->sides = empty();
    field->front.runs = empty();
    field->border.beyond = empty();
    field->ground = empty();
    field->parts = empty();
    field->stands_kg_ha = empty();
    field->heights = empty();
}

static void fill_feature(struct fw_farm_feature *feature)
{
    feature->points = empty();
    feature->ring_start = empty();
    feature->name = text();
    feature->kv_text = text();
}

static void fill(struct fw_farm *farm, size_t count)
{
    farm->path = text();
    farm->name = text();
    farm->layout = text();
    farm->fields_source = text();
    farm->earlier_path = text();
    farm->earlier = empty();
    farm->inputs.items = empty();
    farm->inputs.items[0].path = text();
    farm->inputs.count = 1;
    farm->classes = empty();
    farm->stay.away = empty();
    farm->stockpile.parts = empty();
    farm->defaults = empty();
    farm->fields = fw_alloc(count, sizeof *farm->fields);
    farm->wholes = fw_alloc(count, sizeof *farm->wholes);
    farm->features = fw_alloc(count, sizeof *farm->features);
    assert_true(farm->fields && farm->wholes && farm->features);
    for (size_t i = 0; i < count; i++) {
        fill_field(&farm->fields[i], i == 1);
        fill_feature(&farm->features[i]);
        farm->wholes[i] = empty();
    }
    farm->field_count = farm->whole_count = farm->feature_count = count;
}

static void a_farm_gives_back_all_that_it_holds(void **state)
{
    (void)state;
    for (size_t count = 1; count < 4; count++) {
        const size_t before = held();
        struct fw_farm *farm = fw_alloc(1, sizeof *farm);
        assert_non_null(farm);
        fill(farm, count);
        assert_true(!guarded_held || held() > before + 20 * count);
        fw_farm_free(farm);
        assert_int_equal(held(), before);
    }
    fw_farm_free(NULL);
}

/* The smallest that a class has decides, unless lambs may creep under it. */
static void the_fence_holds_the_smallest_of_them(void **state)
{
    (void)state;
    static const struct {
        enum fw_state states[2];
        size_t count;
        enum fw_held held;
    } rows[] = {
        {{FW_DRY}, 1, FW_HELD_GROWN},
        {{FW_RAM, FW_LATE_GESTATION}, 2, FW_HELD_GROWN},
        {{FW_DRY, FW_LACTATION_TWINS}, 2, FW_HELD_AT_FOOT},
        {{FW_LACTATION_SINGLE}, 1, FW_HELD_AT_FOOT},
        {{FW_WEANED_LAMB, FW_DRY}, 2, FW_HELD_WEANED},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int creep = 0; creep < 2; creep++) {
            struct fw_flock_class classes[2] = {{.head = 40, .weight_kg = 30},
                                                {.head = 50, .weight_kg = 70}};
            for (size_t k = 0; k < rows[i].count; k++)
                classes[k].state = rows[i].states[k];
            const struct fw_farm farm = {.classes = classes,
                                         .class_count = rows[i].count,
                                         .lambs_creep = creep};
            assert_int_equal(fw_farm_held(&farm),
                             creep ? FW_HELD_GROWN : rows[i].held);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_farm_gives_back_all_that_it_holds),
        cmocka_unit_test(the_fence_holds_the_smallest_of_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
