#include "shared.h"

#include "diags.h"
#include "quantity.h"
#include "warming.h"

#include <stdio.h>
#include <string.h>

still_status still_read_ambient(double *ambient_K, const char *text, still_diags *diags)
{
    double value = STILL_AMBIENT_K;
    if (text != NULL && still_quantity_parse(text, strlen(text), STILL_DIM_TEMPERATURE, &value) !=
                            STILL_QUANTITY_OK) {
        still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                        "the ambient is no temperature with a unit, such as \"40 degC\"");
        return STILL_E_USAGE;
    }
    *ambient_K = value;
    return STILL_OK;
}

/* What else has this id. */
static const char *other(const still_plant *p, const char *id)
{
    for (uint32_t i = 0; i < p->n_feeds; i++)
        if (strcmp(still_text(p, p->feeds[i].id), id) == 0)
            return ": that is a feed; name what it supplies";
    for (uint32_t i = 0; i < p->n_services; i++)
        if (strcmp(still_text(p, p->services[i].id), id) == 0)
            return ": that is a service; name what it flows in";
    for (uint32_t i = 0; i < p->n_gauges; i++)
        if (strcmp(still_text(p, p->gauges[i].id), id) == 0)
            return ": that is a gauge; name what it is on";
    for (uint32_t i = 0; i < p->n_sequences; i++)
        if (strcmp(still_text(p, p->sequences[i].id), id) == 0)
            return ": that is a sequence; name what it acts on";
    return NULL;
}

/* "E-1.pipes" of an E-1 that is there: what it has. */
static bool part_of_one(char *text, size_t size, const still_plant *p, const char *id)
{
    const char *dot = strrchr(id, '.');
    uint32_t comp = 0;
    for (; dot != NULL && comp < p->n_comps; comp++) {
        const char *whole = still_id_of(p, comp);
        if (strncmp(whole, id, (size_t)(dot - id)) == 0 && whole[dot - id] == '\0') break;
    }
    if (dot == NULL || comp == p->n_comps || p->comps[comp].cls == STILL_CLASS_SPOOL) return false;
    still_buf buf = STILL_BUF_INIT;
    still_buf_printf(&buf, ": \"%s\" has", still_id_of(p, comp));
    for (uint32_t s = 0; s < p->n_sides; s++)
        if (p->sides[s].comp == comp)
            still_buf_printf(&buf, " side \"%s\",", still_text(p, p->sides[s].id));
    for (uint32_t i = 0; i < p->n_ports; i++)
        if (p->ports[i].comp == comp)
            still_buf_printf(&buf, " port \"%s\",", still_text(p, still_port_name(p, i)));
    bool any = !buf.failed && buf.text[buf.len - 1] == ',';
    if (any) buf.text[buf.len - 1] = '\0';
    if (any) snprintf(text, size, "%s", buf.text);
    still_buf_clear(&buf);
    return any;
}

still_status still_refuse_comp(const still_plant *plant, const char *id, const char *what_for,
                               still_diags *diags)
{
    char nearest[300], text[360];
    const char *next = other(plant, id);
    if (next == NULL && part_of_one(text, sizeof text, plant, id)) next = text;
    if (next == NULL) {
        still_plant_near(nearest, sizeof nearest, plant, id);
        snprintf(text, sizeof text, "%s; ids are as in the plant file, letter case too", nearest);
        next = text;
    }
    still_diags_add(diags, STILL_SEV_ERROR, "STILL-USE", "", 0, 0, "", NULL,
                    "the plant has no component with the id \"%.255s\"%s%s", id, what_for, next);
    return STILL_E_NO_COMP;
}

still_picture still_picture_of(still_format format)
{
    if (format == STILL_FORMAT_PNG) return STILL_PICTURE_PNG;
    return format == STILL_FORMAT_PDF ? STILL_PICTURE_PDF : STILL_PICTURE_SVG;
}

still_status still_give(char **bytes, size_t *len, still_buf *buf, still_status status)
{
    if (status == STILL_OK && buf->failed) status = STILL_E_NOMEM;
    if (status != STILL_OK) {
        still_buf_clear(buf);
        return status;
    }
    *bytes = buf->text;
    *len = buf->len;
    return STILL_OK;
}
