/* Making a coordinate system costs PROJ more than all that is then done with
 * it, since it searches its database for ways to WGS 84. So each thread keeps
 * the last few. This is the only thing that outlives a call: a PROJ context
 * belongs to one thread, and so does what is kept. */
#include "base/alloc.h"
#include "base/fail.h"
#include "crs/crs.h"
#include "crs/inner.h"
#include "geo/inner.h"

#include <pthread.h>
#include <string.h>

enum { most_kept = 8 };

struct kept {
    struct fw_crs *crs;
    size_t lent; /* how often it is out */
};

struct shelf {
    struct kept items[most_kept]; /* the last that was asked for is first */
    size_t count;
};

static pthread_key_t key;
static pthread_once_t once = PTHREAD_ONCE_INIT;
static bool has_key;

static void clear(void *of)
{
    struct shelf *shelf = of;
    for (size_t i = 0; i < shelf->count; i++)
        fw_crs_free(shelf->items[i].crs);
    fw_free(shelf);
}

static void make_key(void)
{
    has_key = pthread_key_create(&key, clear) == 0;
}

/* This thread's; NULL: it keeps nothing, or has no room to. */
static struct shelf *shelf_of_thread(void)
{
    pthread_once(&once, make_key);
    return has_key ? pthread_getspecific(key) : NULL;
}

static enum fw_status open_shelf(struct shelf **out, struct fw_error *err)
{
    *out = shelf_of_thread();
    if (*out || !has_key)
        return FW_OK;
    *out = fw_alloc(1, sizeof **out);
    if (*out && pthread_setspecific(key, *out) == 0)
        return FW_OK;
    fw_free(*out);
    return fw_fail_memory(err);
}

static void put_first(struct shelf *shelf, size_t from)
{
    const struct kept taken = shelf->items[from];
    memmove(shelf->items + 1, shelf->items, from * sizeof *shelf->items);
    shelf->items[0] = taken;
}

/* Room for one more: the last that is not out goes. */
static bool make_room(struct shelf *shelf)
{
    if (shelf->count < most_kept)
        return true;
    for (size_t i = shelf->count; i-- > 0;)
        if (shelf->items[i].lent == 0) {
            fw_crs_free(shelf->items[i].crs);
            memmove(shelf->items + i, shelf->items + i + 1,
                    (--shelf->count - i) * sizeof *shelf->items);
            return true;
        }
    return false;
}

enum fw_status fw_crs_lend(const char *definition, struct fw_crs **out,
                           struct fw_error *err)
{
    struct shelf *shelf;
    enum fw_status status = open_shelf(&shelf, err);
    if (status)
        return status;
    for (size_t i = 0; shelf && definition && i < shelf->count; i++)
        if (strcmp(fw_crs_definition(shelf->items[i].crs), definition) == 0) {
            put_first(shelf, i);
            shelf->items[0].lent++;
            fw_crs__as_new(shelf->items[0].crs);
            *out = shelf->items[0].crs;
            return FW_OK;
        }
    status = fw_crs_new(definition, out, err);
    if (!status && shelf && make_room(shelf)) {
        shelf->items[shelf->count++] = (struct kept){*out, 1};
        put_first(shelf, shelf->count - 1);
    }
    return status;
}

void fw_crs_give_back(struct fw_crs *crs)
{
    struct shelf *shelf = shelf_of_thread();
    for (size_t i = 0; shelf && i < shelf->count; i++)
        if (shelf->items[i].crs == crs) {
            shelf->items[i].lent--;
            return;
        }
    fw_crs_free(crs); /* there was no room to keep it */
}

void fw_crs_forget(void)
{
    struct shelf *shelf = shelf_of_thread();
    size_t left = 0;
    for (size_t i = 0; shelf && i < shelf->count; i++)
        if (shelf->items[i].lent > 0)
            shelf->items[left++] = shelf->items[i];
        else
            fw_crs_free(shelf->items[i].crs);
    if (!shelf)
        return;
    shelf->count = left;
    if (left > 0 || pthread_setspecific(key, NULL))
        return;
    fw_free(shelf);
}
