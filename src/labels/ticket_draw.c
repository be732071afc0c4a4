/* ticket_draw.c - pages of a list as pictures. */
#include "labels/ticket.h"

#include "ticket_page.h"

enum rc
ticket_pages(int *out, const struct ticket *t, const struct label_media *media,
    struct fonts *fonts, struct err *err)
{
	struct ticket_layout *l;
	enum rc rc;

	*out = 0;
	if ((rc = ticket_layout_make(&l, t, false, 0, media, fonts, err)) !=
	    RC_OK)
		return rc;
	*out = (int)l->count;
	ticket_layout_free(l);
	return RC_OK;
}

static enum rc
draw(struct bitmap *bm, const struct ticket_piece *p, int stroke,
    struct fonts *fonts, struct err *err)
{
	struct text text = { p->s, FONT_TEXT, p->px, p->white };

	switch (p->kind) {
	case PIECE_TEXT:
		return font_draw(bm, fonts, &text, p->x, p->y, err);
	case PIECE_BOX:
		bitmap_fill(bm, p->x, p->y, p->w, p->h, true);
		bitmap_fill(bm, p->x + stroke, p->y + stroke, p->w - 2 * stroke,
		    p->h - 2 * stroke, false);
		break;
	case PIECE_BLACK:
		bitmap_fill(bm, p->x, p->y, p->w, p->h, true);
		break;
	}
	return RC_OK;
}

enum rc
ticket_render(struct bitmap **out, const struct ticket *t, int page,
    bool training, int reprint, const struct label_media *media,
    struct fonts *fonts, struct err *err)
{
	struct ticket_layout *l;
	const struct ticket_page *p;
	struct bitmap *bm;
	size_t i;
	enum rc rc;

	*out = NULL;
	if ((rc = ticket_layout_make(
		 &l, t, training, reprint, media, fonts, err)) != RC_OK)
		return rc;
	if (page < 1 || (size_t)page > l->count) {
		rc = err_set(err, RC_INVALID, 0,
		    "the list has no page %d, it has %zu", page, l->count);
		goto done;
	}
	p = &l->pages[page - 1];
	bm = bitmap_new(l->m.width, p->height);
	for (i = 0; i < p->count && rc == RC_OK; i++)
		rc = draw(bm, &p->pieces[i], l->m.thin + 1, fonts, err);
	if (rc == RC_OK)
		*out = bm;
	else
		bitmap_free(bm);
done:
	ticket_layout_free(l);
	return rc;
}
