/*
 * base/format.h - forms a listing can be asked for in.
 */
#ifndef BASE_FORMAT_H
#define BASE_FORMAT_H

enum format {
	FORMAT_TEXT, /* for people */
	FORMAT_JSON,
	FORMAT_CSV, /* RFC 4180, one header line */
};

#endif /* BASE_FORMAT_H */
