/*
 * config/ini.h - read an ini file; the only user of iniparser.
 */
#ifndef CONFIG_INI_H
#define CONFIG_INI_H

#include "base/err.h"
#include "base/ini.h"

/*
 * ini_load - the items of a file.
 * RC_OK       the caller frees with ini_fini()
 * RC_NOTFOUND no such file
 * RC_INVALID  not UTF-8, a line that is no ini line, an empty section, a key
 *             given twice, a name or value that is too long
 */
enum rc ini_load(
    struct ini_doc *out, const char *path, struct err *err) MUST_CHECK;

#endif /* CONFIG_INI_H */
