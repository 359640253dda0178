/* Paths as from the folder of a plan.json, so that farm and plan can be carried
 * elsewhere together, and back. */

/* realpath is of POSIX's X/Open part. */
#define _XOPEN_SOURCE 700

#include "base/alloc.h"
#include "base/array.h"
#include "base/fail.h"
#include "base/text.h"
#include "io/inputs.h"
#include "io/put.h"
#include "io/words.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* ---- on the way out ---- */

/* The memory of realpath is the C library's own. A file's own name stays, also
 * where it is a link. *out is NULL where there is no such folder. */
static enum fw_status whole_path(const char *path, char **out,
                                 struct fw_error *err)
{
    char *folder = fw_strdup(path);
    if (!folder)
        return fw_fail_memory(err);
    const char *base = fw_io__base_name(path);
    folder[base - path] = '\0';
    char *real = realpath(*folder ? folder : ".", NULL);
    fw_free(folder);
    *out = real ? fw_io__path_in(real, base) : NULL;
    const bool lost = real && !*out;
    free(real);
    return lost ? fw_fail_memory(err) : FW_OK;
}

/* Bytes of both that name the same folders. */
static size_t common(const char *a, const char *b)
{
    size_t same = 0;
    for (size_t i = 0;; i++) {
        const bool end_a = !a[i] || a[i] == '/', end_b = !b[i] || b[i] == '/';
        if (end_a && end_b)
            same = i;
        if (a[i] != b[i] || !a[i])
            return same;
    }
}

/* Both from the root; the folder without a slash at its end. */
static enum fw_status relative(const char *folder, const char *path, char **out,
                               struct fw_error *err)
{
    struct fw_text text = {0};
    const size_t same = common(folder, path);
    for (const char *at = folder + same; *at; at++)
        if (*at == '/')
            fw_text_add(&text, "../");
    const char *rest = path + same;
    fw_text_add(&text, rest + (*rest == '/'));
    const enum fw_status status = fw_text_done(&text, err);
    if (status)
        fw_text_release(&text);
    else
        *out = text.bytes;
    return status;
}

static bool is_same_file(const char *a, const char *b)
{
    struct stat of_a, of_b;
    return !stat(a, &of_a) && !stat(b, &of_b) && of_a.st_dev == of_b.st_dev &&
           of_a.st_ino == of_b.st_ino;
}

static enum fw_status add_from(const char *real, const struct fw_input *input,
                               struct fw_inputs *out, struct fw_error *err)
{
    struct fw_input copy = *input;
    struct stat info;
    char *whole = NULL;
    enum fw_status status = fw_array_reserve(&out->items, &out->capacity,
                                             out->count + 1, sizeof copy, err);
    if (!status && !stat(input->path, &info))
        status = whole_path(input->path, &whole, err);
    copy.path = NULL;
    if (!status && whole)
        status = relative(real, whole, &copy.path, err);
    else if (!status)
        copy.path = fw_strdup(input->path);
    fw_free(whole);
    if (!status && !copy.path)
        status = fw_fail_memory(err);
    if (!status)
        out->items[out->count++] = copy;
    return status;
}

enum fw_status fw_inputs_from(const char *folder, const char *without,
                              const struct fw_inputs *inputs,
                              struct fw_inputs *out, struct fw_error *err)
{
    char *taken = without ? fw_io__path_in(folder, without) : NULL;
    char *real = realpath(*folder ? folder : ".", NULL);
    struct fw_inputs made = {0};
    enum fw_status status = without && !taken ? fw_fail_memory(err) : FW_OK;
    if (!status && !real)
        status =
            fw_fail(err, FW_EOUTPUT, "%s: that folder is not there", folder);
    const char *from = real && strcmp(real, "/") != 0 ? real : "";
    for (size_t i = 0; i < inputs->count && !status; i++)
        if (!taken || !is_same_file(inputs->items[i].path, taken))
            status = add_from(from, &inputs->items[i], &made, err);
    free(real);
    fw_free(taken);
    if (status)
        fw_inputs_release(&made);
    else
        *out = made;
    return status;
}

/* "." where they are the same. */
static enum fw_status folder_from(const char *folder, const char *path,
                                  char **out, struct fw_error *err)
{
    char *from = realpath(*folder ? folder : ".", NULL);
    char *to = realpath(path && *path ? path : ".", NULL);
    enum fw_status status =
        from && to ? FW_OK
                   : fw_fail(err, FW_EOUTPUT, "%s: that folder is not there",
                             from ? path ? path : "." : folder);
    if (!status)
        status = relative(strcmp(from, "/") != 0 ? from : "", to, out, err);
    if (!status && !**out) {
        fw_free(*out);
        *out = fw_strdup(".");
        status = *out ? FW_OK : fw_fail_memory(err);
    }
    free(from);
    free(to);
    return status;
}

enum fw_status fw_told_from(const char *folder, const struct fw_told *told,
                            struct fw_told *out, struct fw_error *err)
{
    struct fw_told made = {0};
    if (told->count == 0)
        return FW_OK;
    enum fw_status status = fw_told_copy(&made, told, err);
    fw_free(made.folder);
    made.folder = NULL;
    if (!status)
        status = folder_from(folder, told->folder, &made.folder, err);
    if (status)
        fw_told_release(&made);
    else
        *out = made;
    return status;
}

/* ---- on the way in ---- */

static bool is_link(const char *path)
{
    struct stat info;
    return lstat(path, &info) || S_ISLNK(info.st_mode);
}

/* "out/" and "../farm.yaml" are "farm.yaml", but where out is a link. */
static void step_out(char *folder, const char **path)
{
    while (!strncmp(*path, "../", 3)) {
        size_t length = strlen(folder);
        while (length > 1 && folder[length - 1] == '/')
            folder[--length] = '\0';
        char *name = strrchr(folder, '/');
        name = name ? name + 1 : folder;
        if (!strcmp(name, ".")) {
            *name = '\0';
            continue;
        }
        if (!*name || !strcmp(name, "..") || is_link(folder))
            return;
        *name = '\0';
        *path += 3;
    }
}

static enum fw_status place(char **at, const char *folder, struct fw_error *err)
{
    if (**at == '/')
        return FW_OK;
    const char *path = *at;
    char *from = fw_strdup(folder);
    if (from)
        step_out(from, &path);
    char *placed = from ? fw_io__path_in(from, path) : NULL;
    fw_free(from);
    if (!placed)
        return fw_fail_memory(err);
    fw_free(*at);
    *at = placed;
    return FW_OK;
}

enum fw_status fw_io__place_told(struct fw_told *told, const char *folder,
                                 struct fw_error *err)
{
    return told->folder ? place(&told->folder, folder, err) : FW_OK;
}

enum fw_status fw_io__place_inputs(struct fw_inputs *inputs, const char *folder,
                                   struct fw_error *err)
{
    enum fw_status status = FW_OK;
    for (size_t i = 0; i < inputs->count && !status; i++) {
        if (!inputs->items[i].path)
            return fw_fail(err, FW_EINPUT, ".inputs[%zu].path: expected a text",
                           i);
        if (inputs->items[i].known)
            status = place(&inputs->items[i].path, folder, err);
    }
    return status;
}
