/* Nothing that a file names is followed: a port of this machine listens, and
 * must never be called. Whoever is named by the person is called, and waited
 * for no longer than told. */
#include "io/address.h"
#include "io/session.h"
#include "make_map.h"

#include <cpl_conv.h>
#include <cpl_vsi.h>
#include <gdal.h>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <pthread.h>
#include <sys/socket.h>
#include <time.h>

/* ---- a port ---- */

struct port {
    int socket;
    int number;
};

static struct port listen_here(void)
{
    struct sockaddr_in at = {.sin_family = AF_INET};
    socklen_t size = sizeof at;
    struct port port = {.socket = socket(AF_INET, SOCK_STREAM, 0)};
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    assert_true(port.socket >= 0);
    assert_int_equal(bind(port.socket, (struct sockaddr *)&at, size), 0);
    assert_int_equal(listen(port.socket, 8), 0);
    assert_int_equal(getsockname(port.socket, (struct sockaddr *)&at, &size),
                     0);
    port.number = ntohs(at.sin_port);
    return port;
}

static bool was_called(const struct port *port)
{
    struct pollfd waiting = {.fd = port->socket, .events = POLLIN};
    return poll(&waiting, 1, 0) > 0;
}

/* Answers each caller with the body, in a thread of its own, until told to end
 * by a caller that says nothing. */
struct server {
    struct port port;
    const char *body;
    pthread_t thread;
};

static void *serve(void *user)
{
    const struct server *server = user;
    for (;;) {
        char asked[2048];
        const int caller = accept(server->port.socket, NULL, NULL);
        const ssize_t count = recv(caller, asked, sizeof asked, 0);
        if (count > 0) {
            char head[160];
            snprintf(head, sizeof head,
                     "HTTP/1.0 200 OK\r\nContent-Length: %zu\r\n\r\n",
                     strlen(server->body));
            send(caller, head, strlen(head), 0);
            send(caller, server->body, strlen(server->body), 0);
        }
        close(caller);
        if (count <= 0)
            return NULL;
    }
}

static void server_end(struct server *server)
{
    struct sockaddr_in at = {.sin_family = AF_INET,
                             .sin_port = htons((uint16_t)server->port.number)};
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    const int caller = socket(AF_INET, SOCK_STREAM, 0);
    connect(caller, (struct sockaddr *)&at, sizeof at);
    close(caller);
    pthread_join(server->thread, NULL);
    close(server->port.socket);
}

/* No proxy may have a say, and none may be in the way. */
static int no_proxy(void **state)
{
    setenv("no_proxy", "*", 1);
    setenv("NO_PROXY", "*", 1);
    return scratch_setup(state);
}

#define offline_test(name)                                                     \
    cmocka_unit_test_setup_teardown(name, no_proxy, scratch_teardown)

/* The text with its one PORT filled in. */
static const char *with_port(const char *text, int port)
{
    static char room[600];
    const char *mark = strstr(text, "PORT");
    snprintf(room, sizeof room, "%.*s%d%s", (int)(mark - text), text, port,
             mark + 4);
    return room;
}

/* ---- maps ---- */

static const char square[] =
    "[{\"type\": \"Feature\", \"properties\": {}, \"geometry\": {\"type\": "
    "\"Polygon\", \"coordinates\": [[[9, 51], [9.001, 51], [9.001, 51.001], "
    "[9, 51]]]}}]";

static void read_crs(struct scratch *scratch, const char *crs, int port)
{
    char text[1200];
    const char *path = in_scratch(scratch, "linked.geojson");
    snprintf(text, sizeof text,
             "{\"type\": \"FeatureCollection\", \"crs\": %s, \"features\": %s}",
             with_port(crs, port), square);
    put_text(path, text);
    const struct fw_map_request request = {.source = path};
    struct fw_map *map = NULL;
    fw_map_read(&request, &map, NULL, NULL);
    fw_map_free(map);
}

static void links_in_crs_members_are_dead(void **state)
{
    static const char *const members[] = {
        "{\"type\": \"link\", \"properties\": {\"href\": "
        "\"http://127.0.0.1:PORT/crs\", \"type\": \"ogcwkt\"}}",
        "{\"type\": \"url\", \"properties\": {\"url\": "
        "\"http://127.0.0.1:PORT/crs\"}}",
        "{\"type\": \"name\", \"properties\": {\"name\": "
        "\"http://127.0.0.1:PORT/crs\"}}",
        "{\"type\": \"name\", \"properties\": {\"name\": "
        "\"/vsicurl/http://127.0.0.1:PORT/crs\"}}",
    };
    const struct port port = listen_here();
    for (size_t i = 0; i < sizeof members / sizeof members[0]; i++)
        read_crs(*state, members[i], port.number);
    assert_false(was_called(&port));
    close(port.socket);
}

static void dead_link_is_said(void **state)
{
    const char *path = in_scratch(*state, "linked.geojson");
    read_crs(*state,
             "{\"type\": \"link\", \"properties\": {\"href\": "
             "\"http://127.0.0.1:PORT/crs\"}}",
             9);
    refuses(&(struct fw_map_request){.source = path},
            "no link in a map is followed");
}

/* Whatever a driver makes of a name in a file, the file system is closed. */
static void file_systems_of_the_network_are_closed(void **state)
{
    (void)state;
    static const char *const paths[] = {
        "/vsicurl/http://127.0.0.1:PORT/a.tif",
        "/vsizip//vsicurl/http://127.0.0.1:PORT/a.zip/a.shp"};
    struct fw_io__session session;
    const struct port port = listen_here();
    fw_io__enter(&session, FW_IO__FILE);
    for (size_t i = 0; i < 2; i++) {
        VSILFILE *file = VSIFOpenL(with_port(paths[i], port.number), "rb");
        assert_null(file);
    }
    fw_io__leave(&session);
    assert_false(was_called(&port));
    close(port.socket);
}

static void schema_of_a_gml_is_not_fetched(void **state)
{
    static const char *const schemas[] = {
        "http://127.0.0.1:PORT/a.xsd", "/vsicurl/http://127.0.0.1:PORT/a.xsd",
        ("/vsicurl_streaming/"
         "http://127.0.0.1:PORT/a.xsd")};
    const struct port port = listen_here();
    for (size_t i = 0; i < 3; i++) {
        char text[1600];
        const char *path = in_scratch(*state, "fields.gml");
        snprintf(text, sizeof text,
                 "<?xml version=\"1.0\"?><!DOCTYPE a SYSTEM "
                 "\"http://127.0.0.1:%d/a.dtd\"><ogr:FeatureCollection "
                 "xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" "
                 "xsi:schemaLocation=\"http://ogr.maptools.org/ %s\" "
                 "xmlns:ogr=\"http://ogr.maptools.org/\" "
                 "xmlns:xlink=\"http://www.w3.org/1999/xlink\" "
                 "xmlns:gml=\"http://www.opengis.net/gml\"><gml:featureMember>"
                 "<ogr:a fid=\"1\"><ogr:geometryProperty "
                 "xlink:href=\"http://127.0.0.1:%d/b\"/></ogr:a>"
                 "</gml:featureMember></ogr:FeatureCollection>",
                 port.number, with_port(schemas[i], port.number), port.number);
        put_text(path, text);
        const struct fw_map_request request = {.source = path};
        struct fw_map *map = NULL;
        fw_map_read(&request, &map, NULL, NULL);
        fw_map_free(map);
    }
    assert_false(was_called(&port));
    close(port.socket);
}

/* ---- VRTs ---- */

static const char *make_tif(struct scratch *scratch, const char *name)
{
    const char *path = in_scratch(scratch, name);
    double affine[] = {500000, 10, 0, 5650000, 0, -10};
    unsigned char cells[16];
    for (int i = 0; i < 16; i++)
        cells[i] = (unsigned char)(100 + i);
    GDALAllRegister();
    GDALDatasetH data =
        GDALCreate(GDALGetDriverByName("GTiff"), path, 4, 4, 1, GDT_Byte, NULL);
    assert_non_null(data);
    GDALSetGeoTransform(data, affine);
    OGRSpatialReferenceH srs = OSRNewSpatialReference(NULL);
    OSRImportFromEPSG(srs, 32632);
    GDALSetSpatialRef(data, srs);
    OSRDestroySpatialReference(srs);
    assert_int_equal(GDALRasterIO(GDALGetRasterBand(data, 1), GF_Write, 0, 0, 4,
                                  4, cells, 4, 4, GDT_Byte, 0, 0),
                     CE_None);
    GDALClose(data);
    return path;
}

static const char *make_vrt(struct scratch *scratch, const char *name,
                            const char *source, bool beside)
{
    char text[2000];
    const char *path = in_scratch(scratch, name);
    snprintf(text, sizeof text,
             "<VRTDataset rasterXSize=\"4\" rasterYSize=\"4\">"
             "<SRS>EPSG:32632</SRS>"
             "<GeoTransform>500000, 10, 0, 5650000, 0, -10</GeoTransform>"
             "<VRTRasterBand dataType=\"Byte\" band=\"1\"><SimpleSource>"
             "<SourceFilename relativeToVRT=\"%d\">%s</SourceFilename>"
             "<SourceBand>1</SourceBand>"
             "<SrcRect xOff=\"0\" yOff=\"0\" xSize=\"4\" ySize=\"4\"/>"
             "<DstRect xOff=\"0\" yOff=\"0\" xSize=\"4\" ySize=\"4\"/>"
             "</SimpleSource></VRTRasterBand></VRTDataset>",
             beside, source);
    put_text(path, text);
    return path;
}

static void raster_refuses(const char *path, const char *expected)
{
    struct fw_raster_file *file = NULL;
    struct fw_error err = {0};
    const struct fw_raster_request request = {.source = path};
    assert_int_equal(fw_raster_open(&request, &file, NULL, &err), FW_EINPUT);
    assert_null(file);
    if (!strstr(err.text, expected))
        fail_msg("\"%s\" does not tell of \"%s\"", err.text, expected);
}

static void raster_opens(const char *path)
{
    struct fw_raster_file *file = NULL;
    struct fw_error err = {0};
    if (fw_raster_open(&(struct fw_raster_request){.source = path}, &file, NULL,
                       &err))
        fail_msg("%s", err.text);
    fw_raster_close(file);
}

static void vrt_of_its_own_folder_is_read(void **state)
{
    struct scratch *scratch = *state;
    const char *tif = make_tif(scratch, "a.tif");
    raster_opens(make_vrt(scratch, "beside.vrt", "a.tif", true));
    raster_opens(make_vrt(scratch, "absolute.vrt", tif, false));
    assert_int_equal(mkdir(in_scratch(scratch, "below"), 0700), 0);
    make_tif(scratch, "below/b.tif");
    raster_opens(make_vrt(scratch, "below.vrt", "below/b.tif", true));
    raster_opens(make_vrt(scratch, "of_vrt.vrt", "below.vrt", true));
}

static void vrt_that_leaves_its_folder_is_refused(void **state)
{
    struct scratch *scratch = *state;
    char outside[200];
    const char *tif = make_tif(scratch, "a.tif");
    assert_int_equal(mkdir(in_scratch(scratch, "in"), 0700), 0);
    snprintf(outside, sizeof outside, "%s", tif);
    static const char folder[] = "in its own folder or below";
    raster_refuses(make_vrt(scratch, "in/up.vrt", "../a.tif", true), folder);
    raster_refuses(make_vrt(scratch, "in/other.vrt", outside, false), folder);
    assert_int_equal(symlink(outside, in_scratch(scratch, "in/link.tif")), 0);
    raster_refuses(make_vrt(scratch, "in/link.vrt", "link.tif", true), folder);
    raster_refuses(make_vrt(scratch, "in/none.vrt", "none.tif", true), folder);
    raster_refuses(make_vrt(scratch, "in/self.vrt", "self.vrt", true),
                   "without end");
    put_text(in_scratch(scratch, "in/text.txt"), "no raster");
    raster_refuses(make_vrt(scratch, "in/text.vrt", "text.txt", true), folder);
}

/* Each by itself in a file that is else as the one that is read. */
static void vrt_with_what_is_not_read_is_refused(void **state)
{
    struct scratch *scratch = *state;
    static const char head[] =
        "<VRTDataset rasterXSize=\"4\" rasterYSize=\"4\"><SRS>EPSG:32632</SRS>"
        "<GeoTransform>500000, 10, 0, 5650000, 0, -10</GeoTransform>";
    static const char tail[] =
        "<VRTRasterBand dataType=\"Byte\" band=\"1\"><SimpleSource>"
        "<SourceFilename relativeToVRT=\"1\">a.tif</SourceFilename>"
        "<SourceBand>1</SourceBand></SimpleSource></VRTRasterBand>"
        "</VRTDataset>";
    static const struct {
        const char *between, *expected; /* NULL: it is read */
    } rows[] = {
        {"", NULL},
        {"<!-- by hand --><Metadata><MDI key=\"a\">1</MDI></Metadata>", NULL},
        {"<Metadata domain=\"OVERVIEWS\"><MDI key=\"a\">1</MDI></Metadata>",
         "names \"overviews\""},
        {"<VRTRasterBand subClass=\"VRTPansharpenedBand\"/>",
         "VRTPansharpenedBand, which is not read here"},
        {"<Metadata subClass=\"VRTDerivedRasterBand\"/>",
         "VRTDerivedRasterBand, which is not read here"},
        {"<Script>a</Script>", "Script, which is not read here"},
    };
    make_tif(scratch, "a.tif");
    const char *path = in_scratch(scratch, "odd.vrt");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[2000];
        snprintf(text, sizeof text, "%s%s%s", head, rows[i].between, tail);
        put_text(path, text);
        if (rows[i].expected)
            raster_refuses(path, rows[i].expected);
        else
            raster_opens(path);
    }
    char deep[4000] = "";
    for (int i = 0; i < 100; i++)
        strcat(deep, "<Metadata>");
    for (int i = 0; i < 100; i++)
        strcat(deep, "</Metadata>");
    char text[6000];
    snprintf(text, sizeof text, "%s%s%s", head, deep, tail);
    put_text(path, text);
    raster_refuses(path, "nested too deep");
    assert_int_equal(mkdir(in_scratch(scratch, "folder.tif"), 0700), 0);
    raster_refuses(make_vrt(scratch, "of_folder.vrt", "folder.tif", true),
                   "in its own folder or below");
    raster_refuses(make_vrt(scratch, "of_none.vrt", "", true),
                   "in its own folder or below");
    raster_refuses(make_vrt(scratch, "of_root.vrt", "/etc/passwd", false),
                   "in its own folder or below");
    /* What stands beside a raster is opened with it. */
    make_tif(scratch, "b.tif");
    raster_opens(in_scratch(scratch, "b.tif"));
    put_text(in_scratch(scratch, "b.tif.ovr"), "no raster");
    raster_refuses(in_scratch(scratch, "b.tif"), "no mask or overview");
}

static void vrt_of_the_network_calls_nobody(void **state)
{
    static const char *const ways[] = {
        "/vsicurl/http://127.0.0.1:PORT/a.tif",
        "/vsicurl_streaming/http://127.0.0.1:PORT/a.tif",
        "/vsizip//vsicurl/http://127.0.0.1:PORT/a.zip/a.tif",
        "http://127.0.0.1:PORT/a.tif",
        "WCS:http://127.0.0.1:PORT/?coverage=a",
    };
    struct scratch *scratch = *state;
    const struct port port = listen_here();
    char tiles[800];
    snprintf(tiles, sizeof tiles,
             "<GDAL_WMS><Service name=\"TMS\"><ServerUrl>"
             "http://127.0.0.1:%d/${z}/${x}/${y}.png</ServerUrl></Service>"
             "<DataWindow><UpperLeftX>0</UpperLeftX><UpperLeftY>0</UpperLeftY>"
             "<LowerRightX>4</LowerRightX><LowerRightY>-4</LowerRightY>"
             "<SizeX>4</SizeX><SizeY>4</SizeY></DataWindow>"
             "<BandsCount>1</BandsCount></GDAL_WMS>",
             port.number);
    put_text(in_scratch(scratch, "tiles.xml"), tiles);
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        const char *source = with_port(ways[i], port.number);
        raster_refuses(make_vrt(scratch, "net.vrt", source, false),
                       "in its own folder or below");
    }
    raster_refuses(make_vrt(scratch, "tiles.vrt", "tiles.xml", true),
                   "in its own folder or below");
    make_tif(scratch, "masked.tif");
    put_text(in_scratch(scratch, "masked.tif.msk"), tiles);
    raster_refuses(in_scratch(scratch, "masked.tif"), "no mask");
    raster_refuses(in_scratch(scratch, "tiles.xml"), "not a raster");
    assert_false(was_called(&port));
    close(port.socket);
}

static void passwd_is_no_raster(void **state)
{
    struct scratch *scratch = *state;
    const char *path = in_scratch(scratch, "raw.vrt");
    put_text(path,
             "<VRTDataset rasterXSize=\"4\" rasterYSize=\"4\">"
             "<SRS>EPSG:32632</SRS>"
             "<GeoTransform>500000, 10, 0, 5650000, 0, -10</GeoTransform>"
             "<VRTRasterBand dataType=\"Byte\" band=\"1\" "
             "subClass=\"VRTRawRasterBand\">"
             "<SourceFilename relativeToVRT=\"0\">/etc/passwd</SourceFilename>"
             "<ImageOffset>0</ImageOffset><PixelOffset>1</PixelOffset>"
             "<LineOffset>4</LineOffset></VRTRasterBand></VRTDataset>");
    raster_refuses(path, "VRTRawRasterBand");
    raster_refuses(make_vrt(scratch, "p.vrt", "/etc/passwd", false),
                   "/etc/passwd");
    raster_refuses("/etc/passwd", "not a raster");
}

static void warped_and_coded_vrts_are_refused_by_name(void **state)
{
    static const char *const kinds[] = {"VRTWarpedDataset",
                                        "VRTPansharpenedDataset"};
    struct scratch *scratch = *state;
    for (size_t i = 0; i < 2; i++) {
        char text[400];
        const char *path = in_scratch(scratch, "odd.vrt");
        snprintf(text, sizeof text,
                 "<VRTDataset rasterXSize=\"4\" rasterYSize=\"4\" "
                 "subClass=\"%s\"></VRTDataset>",
                 kinds[i]);
        put_text(path, text);
        raster_refuses(path, kinds[i]);
    }
    const char *path = in_scratch(scratch, "code.vrt");
    put_text(path, "<VRTDataset rasterXSize=\"4\" rasterYSize=\"4\">"
                   "<VRTRasterBand dataType=\"Byte\" band=\"1\" "
                   "subClass=\"VRTDerivedRasterBand\"/></VRTDataset>");
    raster_refuses(path, "VRTDerivedRasterBand");
    put_text(path, "<VRTDataset rasterXSize=\"4\" rasterYSize=\"4\">"
                   "<Group name=\"/\"/></VRTDataset>");
    raster_refuses(path, "Group");
}

/* ---- addresses ---- */

static void only_ways_on_the_list_lead_to_a_source(void **state)
{
    (void)state;
    refuses(&(struct fw_map_request){.source = "GFT:tables=a"},
            "is no way to a source");
    refuses(&(struct fw_map_request){.source = "ESRIJSON:http://x.example/a"},
            "is no way to a source");
    refuses(&(struct fw_map_request){.source = "/vsisparse/a.xml"},
            "/vsisparse/ is not read here");
    refuses(&(struct fw_map_request){.source = "/vsizip//vsistdin/"},
            "/vsistdin/ is not read here");
    refuses(&(struct fw_map_request){.source = "GPKG:a.gpkg:b"},
            "holds rasters");
    raster_refuses("PG:dbname=a", "holds no raster");
}

static void pipe_is_refused_and_not_waited_for(void **state)
{
    const char *path = in_scratch(*state, "pipe.geojson");
    assert_int_equal(mkfifo(path, 0600), 0);
    refuses(&(struct fw_map_request){.source = path}, "a pipe or a device");
    raster_refuses(path, "a pipe or a device");
}

static void page_is_read_as_a_file_and_leads_no_further(void **state)
{
    (void)state;
    const struct port other = listen_here();
    struct server server = {.port = listen_here()};
    char body[1200], source[120];
    snprintf(body, sizeof body,
             "{\"type\": \"FeatureCollection\", \"crs\": {\"type\": \"link\", "
             "\"properties\": {\"href\": \"http://127.0.0.1:%d/crs\"}}, "
             "\"features\": %s}",
             other.number, square);
    server.body = body;
    pthread_create(&server.thread, NULL, serve, &server);
    snprintf(source, sizeof source, "http://127.0.0.1:%d/a.geojson?field=b",
             server.port.number);
    const struct fw_map_request request = {.source = source,
                                           .crs = "EPSG:4326"};
    struct fw_notes notes = {0};
    struct fw_map *map = read_with(&request, &notes);
    assert_int_equal(map->feature_count, 1);
    assert_string_equal(map->source, source);
    assert_false(was_called(&other));
    fw_map_free(map);
    fw_notes_release(&notes);
    server_end(&server);
    close(other.socket);
    char **left = VSIReadDir("/vsimem/");
    for (char **name = left; name && *name; name++)
        assert_null(strstr(*name, "foldwright"));
    for (char **name = left; name && *name; name++)
        CPLFree(*name);
    CPLFree(left);
}

/* In memory, under its own name, without what was asked of it; and a page with
 * nothing in it is none. */
static void page_has_its_own_name_without_the_question(void **state)
{
    (void)state;
    struct server server = {.port = listen_here(), .body = "{}"};
    pthread_create(&server.thread, NULL, serve, &server);
    static const struct {
        const char *rest, *name;
    } rows[] = {
        {"/in/side/a.geojson", "/a.geojson"},
        {"/a.geojson?key=/b/c.zip", "/a.geojson"},
        {"/in/a.zip#/part", "/a.zip"},
        {"/in/", "/"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char source[160], *path = NULL;
        struct fw_io__session session;
        struct fw_error err = {.text = ""};
        snprintf(source, sizeof source, "http://127.0.0.1:%d%s",
                 server.port.number, rows[i].rest);
        fw_io__enter(&session, FW_IO__PAGE);
        assert_false(session.may_fetch);
        if (fw_io__fetch(source, &session, &path, &err))
            fail_msg("%s", err.text);
        assert_false(session.may_fetch);
        fw_io__leave(&session);
        assert_int_equal(strncmp(path, "/vsimem/foldwright-page-", 24), 0);
        assert_string_equal(strchr(path + 24, '/'), rows[i].name);
        fw_io__unfetch(path);
    }
    fw_io__unfetch(NULL);
    server.body = "";
    char source[160];
    snprintf(source, sizeof source, "http://127.0.0.1:%d/a.geojson",
             server.port.number);
    refuses(&(struct fw_map_request){.source = source},
            "cannot be fetched: nothing comes from there");
    server_end(&server);
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* A port that takes the call and never says a word. */
static void silent_database_is_not_waited_for(void **state)
{
    (void)state;
    const struct port port = listen_here();
    char source[160];
    snprintf(source, sizeof source,
             "PG:host=127.0.0.1 port=%d dbname=a connect_timeout=2",
             port.number);
    const double before_s = seconds();
    refuses(&(struct fw_map_request){.source = source}, "cannot be opened");
    assert_true(seconds() - before_s < 8);
    assert_true(was_called(&port));
    close(port.socket);
}

static void silent_page_is_not_waited_for(void **state)
{
    (void)state;
    const struct port port = listen_here();
    char source[160];
    snprintf(source, sizeof source, "http://127.0.0.1:%d/a.geojson",
             port.number);
    const double before_s = seconds();
    refuses(&(struct fw_map_request){.source = source, .patience_s = 1},
            "cannot be fetched");
    assert_true(seconds() - before_s < 8);
    close(port.socket);
}

static void query_without_an_end_is_given_up(void **state)
{
    const char *path = in_scratch(*state, "fields.gpkg");
    make_map("GPKG", path, 32632, NULL);
    const double before_s = seconds();
    refuses(
        &(struct fw_map_request){
            .source = path,
            .where = "1 = (WITH RECURSIVE c(x) AS (SELECT 1 UNION ALL "
                     "SELECT x + 1 FROM c) SELECT count(*) FROM c)",
            .patience_s = 1},
        "nothing more came for 1 s");
    assert_true(seconds() - before_s < 8);
}

/* It asks whether to go on some fifty times, and is told to. */
static void query_that_takes_its_time_is_waited_for(void **state)
{
    const char *path = in_scratch(*state, "fields.gpkg");
    make_map("GPKG", path, 32632, NULL);
    struct fw_map *map = read_with(
        &(struct fw_map_request){
            .source = path,
            .where = "300000 = (WITH RECURSIVE c(x) AS (SELECT 1 UNION ALL "
                     "SELECT x + 1 FROM c LIMIT 300000) SELECT count(*) FROM "
                     "c)",
            .patience_s = 30},
        NULL);
    assert_int_equal(map->feature_count, 3);
    fw_map_free(map);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        offline_test(links_in_crs_members_are_dead),
        offline_test(dead_link_is_said),
        offline_test(file_systems_of_the_network_are_closed),
        offline_test(schema_of_a_gml_is_not_fetched),
        offline_test(vrt_with_what_is_not_read_is_refused),
        offline_test(vrt_of_its_own_folder_is_read),
        offline_test(vrt_that_leaves_its_folder_is_refused),
        offline_test(vrt_of_the_network_calls_nobody),
        offline_test(passwd_is_no_raster),
        offline_test(warped_and_coded_vrts_are_refused_by_name),
        offline_test(only_ways_on_the_list_lead_to_a_source),
        offline_test(pipe_is_refused_and_not_waited_for),
        offline_test(page_is_read_as_a_file_and_leads_no_further),
        offline_test(page_has_its_own_name_without_the_question),
        offline_test(silent_database_is_not_waited_for),
        offline_test(silent_page_is_not_waited_for),
        offline_test(query_without_an_end_is_given_up),
        offline_test(query_that_takes_its_time_is_waited_for),
    };
    return cmocka_run_group_tests_name("io_offline", tests, NULL, NULL);
}
