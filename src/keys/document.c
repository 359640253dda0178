/* YAML within its caps. The events are looked at first, which bounds depth and
 * size before anything is built, and refuses what the farm file has no use for:
 * aliases (a few of them can stand for billions of values), a second document.
 * Then the document is loaded, and every node carries its line. */
#include "keys/reader.h"

#include "figures/mark.h"

#include <string.h>

enum { most_depth = FW_BOUND(32), most_nodes = FW_BOUND(100000) };

static void open_parser(yaml_parser_t *parser, const char *bytes, size_t count)
{
    yaml_parser_set_input_string(parser, (const unsigned char *)bytes, count);
}

static size_t line_of(const char *bytes, size_t count, size_t offset)
{
    size_t line = 1;
    for (size_t i = 0; i < offset && i < count; i++)
        line += bytes[i] == '\n';
    return line;
}

/* Does a tab stand before the first letter of the line? */
static bool indented_by_tab(const char *bytes, size_t count, size_t line)
{
    size_t i = 0;
    for (size_t at = 1; at < line && i < count; i++)
        at += bytes[i] == '\n';
    for (; i < count && (bytes[i] == ' ' || bytes[i] == '\t'); i++)
        if (bytes[i] == '\t')
            return true;
    return false;
}

static enum fw_status not_yaml(const struct fw_farm__reader *reader,
                               const yaml_parser_t *parser, const char *bytes,
                               size_t count, struct fw_error *err)
{
    if (parser->error == YAML_MEMORY_ERROR)
        return fw_fail_memory(err);
    const bool decoding = parser->error == YAML_READER_ERROR;
    const size_t line = decoding ? line_of(bytes, count, parser->problem_offset)
                                 : parser->problem_mark.line + 1;
    const char *problem =
        parser->problem ? parser->problem : "this cannot be read";
    const char *context = parser->context && !decoding ? parser->context : "";
    const char *help = indented_by_tab(bytes, count, line)
                           ? "; indent with spaces, not with tabs"
                       : decoding ? "; save the file as UTF-8"
                                  : "";
    return fw_fail(err, FW_EINPUT, "%s:%zu: not YAML: %s%s%s%s",
                   reader->request->farm_path, line, problem,
                   context[0] ? " " : "", context, help);
}

static enum fw_status refuse(const struct fw_farm__reader *reader, size_t line,
                             const char *why, struct fw_error *err)
{
    return fw_fail(err, FW_EINPUT, "%s:%zu: %s", reader->request->farm_path,
                   line, why);
}

static const char *anchor_of(const yaml_event_t *event)
{
    switch (event->type) {
    case YAML_SCALAR_EVENT:
        return (const char *)event->data.scalar.anchor;
    case YAML_SEQUENCE_START_EVENT:
        return (const char *)event->data.sequence_start.anchor;
    case YAML_MAPPING_START_EVENT:
        return (const char *)event->data.mapping_start.anchor;
    default:
        return NULL;
    }
}

struct counts {
    size_t depth, nodes, documents;
};

static enum fw_status look_at(const struct fw_farm__reader *reader,
                              const yaml_event_t *event, struct counts *counts,
                              struct fw_error *err)
{
    const size_t line = event->start_mark.line + 1;
    const bool opens = event->type == YAML_SEQUENCE_START_EVENT ||
                       event->type == YAML_MAPPING_START_EVENT;
    const bool closes = event->type == YAML_SEQUENCE_END_EVENT ||
                        event->type == YAML_MAPPING_END_EVENT;
    counts->nodes += opens || event->type == YAML_SCALAR_EVENT;
    counts->depth += opens;
    counts->depth -= closes;
    counts->documents += event->type == YAML_DOCUMENT_START_EVENT;
    if (event->type == YAML_ALIAS_EVENT || anchor_of(event))
        return refuse(reader, line,
                      "anchors and aliases (& and *) are not used in a farm "
                      "file; write the value out, in quotes if it starts so",
                      err);
    if (counts->depth > most_depth)
        return refuse(reader, line,
                      "is nested over 32 deep; expected 6 at "
                      "most",
                      err);
    if (counts->nodes > most_nodes)
        return refuse(reader, line, "is the 100,001st value; expected fewer",
                      err);
    if (counts->documents > 1)
        return refuse(reader, line,
                      "a second document starts here (---); expected one", err);
    return FW_OK;
}

static enum fw_status check_events(const struct fw_farm__reader *reader,
                                   const char *bytes, size_t count,
                                   struct fw_error *err)
{
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser))
        return fw_fail_memory(err);
    open_parser(&parser, bytes, count);
    struct counts counts = {0};
    enum fw_status status = FW_OK;
    bool more = true;
    while (more && !status) {
        yaml_event_t event;
        if (!yaml_parser_parse(&parser, &event)) {
            status = not_yaml(reader, &parser, bytes, count, err);
            break;
        }
        more = event.type != YAML_STREAM_END_EVENT;
        status = look_at(reader, &event, &counts, err);
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    return status;
}

enum fw_status fw_farm__load(struct fw_farm__reader *reader, const char *bytes,
                             size_t count, struct fw_error *err)
{
    enum fw_status status = check_events(reader, bytes, count, err);
    if (status)
        return status;
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser))
        return fw_fail_memory(err);
    open_parser(&parser, bytes, count);
    if (yaml_parser_load(&parser, &reader->document))
        reader->has_document = true;
    else
        status = not_yaml(reader, &parser, bytes, count, err);
    yaml_parser_delete(&parser);
    return status;
}
