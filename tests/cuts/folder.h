/*
 * folder.h - folders of test files.  What cannot be done ends the program.
 */
#ifndef FOLDER_H
#define FOLDER_H

#include <stddef.h>

/* folder_new - in memory where there is such a place. */
void folder_new(char path[256], const char *what);
/* folder_empty - files of it and of its folders; the folders stay.
 * folder_drop - all of it. */
void folder_empty(const char *path);
void folder_drop(const char *path);
void folder_make(const char *path);
void folder_put(const char *path, const void *bytes, size_t size);
/* folder_copy - files and folders of one into the other, emptied first; shared
 * memory of a log stays behind, as after a crash. */
void folder_copy(const char *from, const char *to);

/* folder_each - every file of it and of its folders, by the name below it. */
void folder_each(const char *path,
    void (*fn)(void *arg, const char *whole, const char *name), void *arg);

_Noreturn void give_up(const char *fmt, ...)
    __attribute__((format(printf, 1, 2)));

#endif /* FOLDER_H */
