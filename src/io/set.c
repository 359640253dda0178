/* A set of files in one folder. Whatever can be known to stand in the way is
 * found before a byte is written; all are on the disk under temporary names
 * before the first takes its place; and while they take their places a mark
 * stands in the folder, so that no reader takes one half for the whole. */
#include "base/alloc.h"
#include "base/fail.h"
#include "io/io.h"
#include "io/plan_files.h"
#include "io/put.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct file {
    char *target;
    struct stat before;
    bool exists;
    struct fw_io__temporary temporary;
};

struct fw_set {
    char *folder;
    const char *const *names;
    struct file *files;
    size_t count, written, placed;
    struct fw_io__names outdated; /* to be removed */
    int lock;
};

/* ---- before a byte is written ---- */

static bool same_file(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* The links count as well as what stands behind them: a source that was named
 * by a link would be lost with the link. */
static bool is_one_file(const char *a, const char *b)
{
    struct stat of_a[2], of_b[2];
    const bool there_a[2] = {!lstat(a, &of_a[0]), !stat(a, &of_a[1])};
    const bool there_b[2] = {!lstat(b, &of_b[0]), !stat(b, &of_b[1])};
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 2; k++)
            if (there_a[i] && there_b[k] && same_file(&of_a[i], &of_b[k]))
                return true;
    return false;
}

static enum fw_status check_sources(const char *target, const char *name,
                                    const struct fw_inputs *inputs,
                                    struct fw_error *err)
{
    if (!strcmp(name, "plan.json") && fw_plan_json_is(target))
        return FW_OK; /* what goes on from a plan takes its place */
    for (size_t i = 0; inputs && i < inputs->count; i++)
        if (is_one_file(target, inputs->items[i].path))
            return fw_fail(err, FW_EOUTPUT,
                           "%s: is what the plan is made from, and would be "
                           "written over; choose another -o",
                           target);
    return FW_OK;
}

/* Does the file begin as every one of ours does? */
static bool begins_so(const char *path, const char *begin)
{
    const size_t most = 1 << 24;
    char *bytes = NULL;
    size_t count = 0;
    const bool so = begin &&
                    !fw_io__get_plain(path, most, &bytes, &count, NULL) &&
                    !strncmp(bytes, begin, strlen(begin));
    fw_bytes_free(bytes);
    return so;
}

static enum fw_status check_foreign(const char *target, const char *name,
                                    const struct fw_io__names *ours,
                                    const struct fw_set_rules *rules,
                                    struct fw_error *err)
{
    struct stat info;
    if (rules->force || lstat(target, &info) || fw_io__names_have(ours, name) ||
        begins_so(target, rules->begin))
        return FW_OK;
    return fw_fail(err, FW_EOUTPUT,
                   "%s: is there already, and no plan lists it as its own; "
                   "choose another -o, move it away, or say --force to lose it",
                   target);
}

static enum fw_status check_folder(const char *folder, struct fw_error *err)
{
    struct stat info;
    const char *path = *folder ? folder : ".";
    if (stat(path, &info))
        return fw_io__refuse(path, errno, err);
    if (!(info.st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)))
        return fw_io__refuse(path, EACCES, err);
    return access(path, W_OK | X_OK) ? fw_io__refuse(path, errno, err) : FW_OK;
}

static enum fw_status find_outdated(struct fw_set *set,
                                    const struct fw_io__names *ours,
                                    const struct fw_set_rules *rules,
                                    struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < rules->outdated_count && !status; i++)
        if (fw_io__names_have(ours, rules->outdated[i]))
            status = fw_io__names_add(&set->outdated, rules->outdated[i], err);
    return status;
}

/* Sources first: of all that is wrong, losing one is the worst. */
static enum fw_status check_all(struct fw_set *set,
                                const struct fw_set_rules *rules,
                                struct fw_error *err)
{
    struct fw_io__names ours = {0};
    enum fw_status status = check_folder(set->folder, err);
    for (size_t i = 0; i < set->count && !status; i++)
        status = check_sources(set->files[i].target, set->names[i],
                               rules->inputs, err);
    if (!status)
        status = fw_io__written_before(set->folder, &ours, err);
    for (size_t i = 0; i < set->count && !status; i++)
        status = check_foreign(set->files[i].target, set->names[i], &ours,
                               rules, err);
    for (size_t i = 0; i < set->count && !status; i++) {
        struct file *file = &set->files[i];
        status =
            fw_io__may_replace(file->target, &file->before, &file->exists, err);
    }
    if (!status)
        status = find_outdated(set, &ours, rules, err);
    fw_io__names_release(&ours);
    return status;
}

/* ---- the set ---- */

void fw_set_free(struct fw_set *set)
{
    if (!set)
        return;
    for (size_t i = 0; set->files && i < set->count; i++) {
        fw_io__discard(&set->files[i].temporary);
        fw_free(set->files[i].target);
    }
    fw_free(set->files);
    fw_io__names_release(&set->outdated);
    if (set->lock >= 0)
        close(set->lock); /* and so it is given up */
    fw_free(set->folder);
    fw_free(set);
}

static enum fw_status name_targets(struct fw_set *set, struct fw_error *err)
{
    set->files = fw_alloc(set->count, sizeof *set->files);
    bool named = set->files && set->folder;
    for (size_t i = 0; i < set->count && named; i++) {
        set->files[i].target = fw_io__path_in(set->folder, set->names[i]);
        named = set->files[i].target != NULL;
    }
    return named ? FW_OK : fw_fail_memory(err);
}

enum fw_status fw_set_begin(const char *folder, const char *const *names,
                            size_t count, const struct fw_set_rules *rules,
                            struct fw_set **out, struct fw_error *err)
{
    struct fw_set *set = fw_alloc(1, sizeof *set);
    if (!set)
        return fw_fail_memory(err);
    *set = (struct fw_set){
        .folder = fw_strdup(folder),
        .names = names,
        .count = count,
        .lock = -1,
    };
    enum fw_status status = name_targets(set, err);
    if (!status)
        status = fw_io__lock(folder, true, &set->lock, err);
    if (!status)
        status = check_all(set, rules, err);
    if (status) {
        fw_set_free(set);
        return status;
    }
    if (set->lock >= 0)
        fw_io__sweep(folder);
    *out = set;
    return FW_OK;
}

enum fw_status fw_set_put(struct fw_set *set, const void *bytes, size_t count,
                          struct fw_error *err)
{
    if (set->written == set->count)
        return fw_fail(err, FW_EFAULT, "%s: the set is of %zu files",
                       set->folder, set->count);
    struct file *file = &set->files[set->written++];
    return fw_io__write_beside(file->target,
                               file->exists ? &file->before : NULL, bytes,
                               count, &file->temporary, err);
}

/* Half of them in place is worse than none, and cannot be undone here: the mark
 * stays, and says so to every reader. */
static enum fw_status put_all(struct fw_set *set, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    while (set->placed < set->count && !status) {
        struct file *file = &set->files[set->placed];
        status = fw_io__put_in_place(&file->temporary, file->target, err);
        set->placed += !status;
    }
    if (!status)
        status = fw_io__sync_folder(set->folder, err);
    if (!status || set->placed == 0 || set->count == 1)
        return status;
    if (err)
        fw_fail(err, FW_EOUTPUT,
                "%s; what is in %s now is of two plans: plan again", err->text,
                set->folder);
    return FW_EOUTPUT;
}

static enum fw_status remove_outdated(struct fw_set *set, struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < set->outdated.count && !status; i++) {
        char *path = fw_io__path_in(set->folder, set->outdated.items[i]);
        if (!path)
            return fw_fail_memory(err);
        if (unlink(path) && errno != ENOENT)
            status = fw_fail(err, FW_EOUTPUT,
                             "%s: is of the plan before, and cannot be "
                             "removed: %s",
                             path, strerror(errno));
        fw_free(path);
    }
    return status ? status : fw_io__sync_folder(set->folder, err);
}

/* One file takes its place at once, and needs no mark. */
enum fw_status fw_set_done(struct fw_set *set, struct fw_error *err)
{
    if (set->written != set->count)
        return fw_fail(err, FW_EFAULT, "%s: the set is of %zu files",
                       set->folder, set->count);
    if (set->count == 1)
        return put_all(set, err);
    bool was_marked = false;
    enum fw_status status = fw_io__find_mark(set->folder, &was_marked, err);
    if (status)
        return status;
    status = fw_io__mark(set->folder, set->names, set->count, err);
    if (!status)
        status = put_all(set, err);
    if (!status && set->outdated.count)
        status = remove_outdated(set, err);
    if (!status)
        return fw_io__unmark(set->folder, err);
    if (set->placed == 0 && !was_marked)
        fw_io__unmark(set->folder, NULL);
    return status;
}
