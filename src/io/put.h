/* Files on their way to their place: what fw_file_put and sets share. */
#ifndef FW_IO_PUT_H
#define FW_IO_PUT_H

#include <foldwright/error.h>
#include <stdbool.h>
#include <stddef.h>
#include <sys/stat.h>

/* ---- file_abandon.c ---- */

/* Remember a temporary file, so that a signal can remove it. -1: no room for
 * it; the file is written all the same. */
int fw_io__remember(const char *path);
void fw_io__forget(int entry);

/* ---- file_get.c ---- */

/* As fw_file_get, of a plain file only: never waits for a pipe. */
enum fw_status fw_io__get_plain(const char *path, size_t most, char **bytes,
                                size_t *count, struct fw_error *err);

/* As fw_file_get, of what is open already. */
enum fw_status fw_io__get_open(int file, const char *path, size_t most,
                               char **bytes, size_t *count,
                               struct fw_error *err);

/* ---- near.c ---- */

/* "SAID: no such file; did you mean NAME?" of a file in the path's folder,
 * where one has nearly that name. FW_EINPUT. */
enum fw_status fw_io__no_such_file(const char *path, const char *said,
                                   struct fw_error *err);

/* ---- file_put.c ---- */

/* errno says why not. */
enum fw_status fw_io__write_all(int file, const char *bytes, size_t count);

/* "PATH: cannot be written: the disk is full". */
enum fw_status fw_io__refuse(const char *path, int code, struct fw_error *err);

/* May the target be replaced? Nothing is changed. *before is that of a plain
 * file that is there, with *exists; a link counts as none, since it is what is
 * replaced. */
enum fw_status fw_io__may_replace(const char *target, struct stat *before,
                                  bool *exists, struct fw_error *err);

struct fw_io__temporary {
    char *path; /* NULL: none */
    int file;   /* -1: closed */
    int entry;
};

/* Bytes under a temporary name beside the target, on the disk. before: of the
 * file whose mode it takes, or NULL. On failure nothing is left. */
enum fw_status fw_io__write_beside(const char *target,
                                   const struct stat *before, const void *bytes,
                                   size_t count, struct fw_io__temporary *out,
                                   struct fw_error *err);

/* Put it in the target's place, or give it up. */
enum fw_status fw_io__put_in_place(struct fw_io__temporary *temporary,
                                   const char *target, struct fw_error *err);
void fw_io__discard(struct fw_io__temporary *temporary);

/* Negative: it may not be read. */
int fw_io__open_folder(const char *folder);

/* What was renamed in the folder lasts only once that is on the disk too. */
enum fw_status fw_io__sync_folder(const char *folder, struct fw_error *err);

/* ---- folder.c ---- */

/* Wait for the lock of an open file, but not for ever: for one writer, or for
 * readers. Some file systems have none. */
enum fw_io__locked { FW_IO__LOCKED, FW_IO__HELD, FW_IO__NO_LOCKS };
enum fw_io__locked fw_io__wait(int file, bool alone);

/* The folder for one writer, or for readers, as long as the number is open; it
 * is free again when the process ends, however it ends. -1: the file system
 * has no locks, and the work goes on without. */
enum fw_status fw_io__lock(const char *folder, bool alone, int *out,
                           struct fw_error *err);

/* Temporaries that nobody goes on with; only under a lock. */
void fw_io__sweep(const char *folder);

/* Names in the folder, of a set that was written before. */
struct fw_io__names {
    char **items;
    size_t count, capacity;
};
void fw_io__names_release(struct fw_io__names *names);
bool fw_io__names_have(const struct fw_io__names *names, const char *name);
enum fw_status fw_io__names_add(struct fw_io__names *names, const char *name,
                                struct fw_error *err);

/* A set stands in the folder by halves as long as this file does. It lists the
 * names of the set. */
#define FW_IO__MARK ".foldwright-unfinished"
enum fw_status fw_io__mark(const char *folder, const char *const *names,
                           size_t count, struct fw_error *err);
enum fw_status fw_io__unmark(const char *folder, struct fw_error *err);
enum fw_status fw_io__find_mark(const char *folder, bool *out,
                                struct fw_error *err);

/* The names of what foldwright wrote there: those that plan.json lists, its
 * own, and those of a mark. */
enum fw_status fw_io__written_before(const char *folder,
                                     struct fw_io__names *out,
                                     struct fw_error *err);

/* "folder/name"; free with fw_free. */
char *fw_io__path_in(const char *folder, const char *name);

#endif
