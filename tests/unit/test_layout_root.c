/* The root of a matrix within its envelope against the matrix itself. */
#include "layout_help.h"

#include "layout/root.h"

enum { n = 40 };

/* A band with an arrow's last rows, made positive by its diagonal. */
static void make(double *matrix, size_t band)
{
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++) {
            const size_t apart = i > k ? i - k : k - i;
            const bool arrow = i + 2 >= n || k + 2 >= n;
            matrix[i * n + k] = i == k ? 10 + (double)(i % 3) * (double)band
                                : apart <= band || arrow
                                    ? sin((double)(i + k)) / 2
                                    : 0;
        }
}

static void root_solves_what_it_was_made_of(void **state)
{
    (void)state;
    static const size_t bands[] = {0, 1, 5, n};
    for (size_t b = 0; b < COUNT(bands); b++) {
        double matrix[n * n], root[n * n], w[n];
        size_t left[n];
        make(matrix, bands[b]);
        for (size_t i = 0; i < n * n; i++)
            root[i] = i % n > i / n ? (double)NAN : matrix[i];
        for (size_t i = 0; i < n; i++)
            w[i] = cos((double)i);
        assert_true(fw_layout__root(root, left, n));
        fw_layout__root_solve(root, left, n, w);
        for (size_t i = 0; i < n; i++) {
            double sum = 0;
            for (size_t k = 0; k < n; k++)
                sum += matrix[i * n + k] * w[k];
            assert_near(sum, cos((double)i), 1e-12);
            if (bands[b] == 1 && i > 1 && i + 2 < n)
                assert_int_equal(left[i], i - 1);
        }
    }
}

static void matrix_without_a_root_is_told(void **state)
{
    (void)state;
    /* two rows alike, and one that is negative */
    double alike[] = {2, 0, 2, 2}, negative[] = {1, 0, 0, -1};
    size_t left[2];
    assert_false(fw_layout__root(alike, left, 2));
    assert_false(fw_layout__root(negative, left, 2));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(root_solves_what_it_was_made_of),
        cmocka_unit_test(matrix_without_a_root_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
