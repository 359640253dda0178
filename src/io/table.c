#include "base/alloc.h"
#include "io/io.h"

void fw_table_release(struct fw_table *table)
{
    for (size_t i = 0; i < table->row_count; i++) {
        struct fw_row *row = &table->rows[i];
        for (size_t k = 0; row->values && k < table->column_count; k++)
            fw_free(row->values[k].text);
        fw_free(row->values);
        fw_free(row->points);
        fw_free(row->ring_start);
        fw_free(row->piece_ring);
    }
    for (size_t i = 0; table->own_columns && i < table->column_count; i++)
        fw_free((char *)table->own_columns[i].name);
    fw_free(table->own_columns);
    table->own_columns = NULL;
    fw_free(table->rows);
    table->rows = NULL;
    table->row_count = table->row_capacity = 0;
}
