/*
 * sqlite.h - SQLite with what watches each changed row, which Debian builds in
 * and its header shows only when asked.  Private to src/store.
 */
#ifndef STORE_SQLITE_H
#define STORE_SQLITE_H

#define SQLITE_ENABLE_PREUPDATE_HOOK
#include <sqlite3.h>

#endif /* STORE_SQLITE_H */
