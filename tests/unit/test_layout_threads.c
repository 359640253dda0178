/* The library keeps nothing between calls, so fields may be laid out in
 * several threads: what comes out is the same to the last byte. */
#include "layout_help.h"
#include "test.h"

#include <pthread.h>
#include <string.h>

enum { fields = 12 };

struct work {
    struct plot plots[fields];
    struct fw_layout_list lists[fields];
    size_t first, step;
};

static void make_fields(struct work *work)
{
    for (size_t i = 0; i < fields; i++) {
        const double x = 40 * (double)i;
        if (i % 3 == 0)
            make_rectangle(&work->plots[i], 300 + x, 200, 7 * (double)i);
        else if (i % 3 == 1)
            make_square_ring(&work->plots[i], 300 + x, 90);
        else
            make_l(&work->plots[i]);
    }
}

static void *lay_out(void *data)
{
    struct work *work = data;
    for (size_t i = work->first; i < fields; i += work->step) {
        const double target = work->plots[i].field.area_m2 / 17.5;
        const struct fw_layout_request request = {
            .field = &work->plots[i].field,
            .target = &target,
            .target_count = 1,
            .start = &work->plots[i].field.vertices[0].plane,
            .bends = i % 2 == 1};
        if (fw_layout_candidates(&request, &work->lists[i], NULL))
            return work;
    }
    return NULL;
}

static void assert_same(const struct fw_layout *a, const struct fw_layout *b)
{
    assert_string_equal(a->name, b->name);
    assert_int_equal(a->added_count, b->added_count);
    assert_int_equal(a->ring_count, b->ring_count);
    for (size_t i = 0; i < a->added_count; i++) {
        assert_memory_equal(&a->added[i].point, &b->added[i].point,
                            sizeof a->added[i].point);
        assert_int_equal(a->added[i].edge, b->added[i].edge);
    }
    assert_memory_equal(a->ring_vertices, b->ring_vertices,
                        a->ring_start[a->ring_count] * sizeof(size_t));
    assert_memory_equal(a->paddock_m2, b->paddock_m2,
                        a->paddock_count * sizeof(double));
    assert_memory_equal(&a->line_m, &b->line_m, sizeof a->line_m);
}

static void two_threads_give_the_same_bytes_as_one(void **state)
{
    (void)state;
    static struct work one, two[2];
    make_fields(&one);
    one.step = 1;
    assert_null(lay_out(&one));
    pthread_t threads[2];
    for (size_t t = 0; t < 2; t++) {
        make_fields(&two[t]);
        two[t].first = t;
        two[t].step = 2;
        assert_int_equal(pthread_create(&threads[t], NULL, lay_out, &two[t]),
                         0);
    }
    for (size_t t = 0; t < 2; t++) {
        void *failed;
        assert_int_equal(pthread_join(threads[t], &failed), 0);
        assert_null(failed);
    }
    for (size_t i = 0; i < fields; i++) {
        struct fw_layout_list *other = &two[i % 2].lists[i];
        assert_int_equal(one.lists[i].count, other->count);
        for (size_t k = 0; k < other->count; k++)
            assert_same(&one.lists[i].items[k], &other->items[k]);
        fw_layout_list_release(&one.lists[i]);
        fw_layout_list_release(other);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_threads_give_the_same_bytes_as_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
