#!/usr/bin/env python3
"""Put together what map.html is made of besides the plan, as a table in C.

    map_page.py LEAFLET OUT PAGE.html PAGE.css PAGE.js NOTICE.txt

LEAFLET is the folder of leaflet.min.js (or leaflet.js) and leaflet.css. Scripts
and styles go into the page as they are, but for addresses from which a browser
would load more: source maps, and the pictures of controls that the page has
not. The page's policy allows this script and these styles by their hashes and
nothing else.
"""
import base64
import hashlib
import pathlib
import re
import sys

MARKS = ["{{policy}}", "{{title}}", "{{plan}}"]  # enum fw_map_part_after


def read(path):
    return pathlib.Path(path).read_text("utf-8").strip()


def without_addresses(text):
    """What a browser would load, and what only dead ones knew."""
    text = re.sub(r"\n?\s*(//|/\*)[#@] ?sourceMappingURL=\S+(\s*\*/)?", "", text)
    return re.sub(r"(?:background-image|behavior)\s*:\s*url\([^)]*\);?", "", text)


def script_of(folder):
    for name in ("leaflet.min.js", "leaflet.js"):
        if (folder / name).exists():
            return without_addresses(read(folder / name))
    sys.exit(f"{folder}: neither leaflet.min.js nor leaflet.js")


def sha256(text):
    digest = hashlib.sha256(text.encode()).digest()
    return "sha256-" + base64.b64encode(digest).decode()


def page(folder, html, css, js, notice):
    style = without_addresses(read(folder / "leaflet.css")) + "\n" + read(css)
    script = f"/*\n{read(notice)}\n*/\n{script_of(folder)}\n{read(js)}\n"
    for what, text in (("style", style), ("script", script)):
        if f"</{what}" in text.lower() or "<!--" in text:
            sys.exit(f"the page's {what} would end within itself")
    if re.search(r"url\((?!#)", style):
        sys.exit("the page's style names a file")
    text = read(html) + "\n"
    for mark, put in (("{{style-hash}}", sha256(style)),
                      ("{{script-hash}}", sha256(script)),
                      ("{{style}}", style), ("{{script}}", script)):
        assert text.count(mark) == 1, mark
        before, after = text.split(mark)
        text = before + put + after
    return text


def parts(text):
    for mark in MARKS:
        before, text = text.split(mark, 1)
        yield before
    yield text


def main():
    folder, out, *files = sys.argv[1:]
    pieces = [part.encode() for part in parts(page(pathlib.Path(folder), *files))]
    lines = ['#include "page/map_page.h"', ""]
    for i, piece in enumerate(pieces):
        lines.append(f"static const unsigned char part_{i}[] = {{")
        lines += [",".join(map(str, piece[k:k + 25])) + ","
                  for k in range(0, len(piece), 25)]
        lines.append("};")
    lines.append("const struct fw_map_part fw_page__map_parts[FW_MAP_PARTS + 1] = {")
    lines += [f"    {{part_{i}, sizeof part_{i}}}," for i in range(len(pieces))]
    lines.append("};")
    pathlib.Path(out).write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
