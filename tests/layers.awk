# The sum behind tests/check_layers: the first file is src/LAYERS, the others are
# C. Names file and line of each include that is not allowed, and each folder of src
# that has too many lines.

BEGIN { most_lines = 7500 }

function fault(text) {
    printf "%s:%d: %s\n", FILENAME, FNR, text
    faults++
}

function folder_of_header(name) {
    return name in folder_with ? folder_with[name] : name
}

function folder_of_file(path,    part) {
    split(path, part, "/")
    if (part[1] == "src")
        return part[2]
    sub(/\.h$/, "", part[3])
    return folder_of_header(part[3])
}

function may_use_system(folder, header,    i) {
    for (i = 1; i <= system_count; i++)
        if ((system_folder[i] == folder || system_folder[i] == "everyone") &&
            header ~ system_pattern[i])
            return 1
    return 0
}

function read_headers(    i, folder) {
    folder = $2
    sub(/:$/, "", folder)
    for (i = 3; i <= NF; i++)
        folder_with[$i] = folder
}

function read_rule(    i, first, pattern, folder) {
    first = $1 == "host" ? 2 : 1
    folder = $first
    sub(/:$/, "", folder)
    known[folder] = 1
    for (i = first + 1; i <= NF; i++) {
        if ($i !~ /^</) {
            if (!($i in known))
                fault($i " does not stand above " folder)
            may[folder, $i] = 1
            continue
        }
        pattern = substr($i, 2, length($i) - 2)
        gsub(/\./, "[.]", pattern)
        gsub(/\*/, "[^/]*", pattern)
        system_folder[++system_count] = folder
        system_pattern[system_count] = "^" pattern "$"
    }
}

function check(from, to, shown) {
    if (to != from && !((from, to) in may))
        fault(from " may not include " shown)
}

function check_include(from, shown,    name, part) {
    name = substr(shown, 2, length(shown) - 2)
    if (shown ~ /^"/) {
        # A name without a folder lies beside the file.
        if (split(name, part, "/") > 1)
            check(from, part[1], shown)
    } else if (name == "foldwright/foldwright.h") {
        if (from != "cli")
            fault(from " may not include " shown ": only cli may")
    } else if (name ~ /^foldwright\//) {
        sub(/^foldwright\//, "", name)
        sub(/\.h$/, "", name)
        check(from, folder_of_header(name), shown)
    } else if (!may_use_system(from, name)) {
        fault(from " may not include " shown)
    }
}

FILENAME == "src/LAYERS" {
    if ($1 == "headers")
        read_headers()
    else if ($1 ~ /^[a-z]+:$/ || $1 == "host")
        read_rule()
    next
}

FILENAME == "include/foldwright/foldwright.h" { next }

FNR == 1 && !(folder_of_file(FILENAME) in known) {
    fault("src/LAYERS has no row for " folder_of_file(FILENAME))
}

/^[ \t]*#[ \t]*include/ {
    if (!match($0, /[<"][^>"]+[>"]/))
        fault("an include that names no file")
    else
        check_include(folder_of_file(FILENAME), substr($0, RSTART, RLENGTH))
}

FILENAME ~ /^src\// { lines[folder_of_file(FILENAME)]++ }

END {
    for (folder in lines)
        if (lines[folder] > most_lines) {
            printf "src/%s/: %d lines; a folder has %d at most: make two of it\n",
                folder, lines[folder], most_lines
            faults++
        }
    exit faults > 0
}
