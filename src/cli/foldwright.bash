# Bash completes commands, options and files of foldwright with this. It asks the
# program's own help, so that it knows what the program knows.
_foldwright() {
    local word=${COMP_WORDS[COMP_CWORD]} command='' before=${COMP_WORDS[COMP_CWORD - 1]}
    local i choices=''
    COMPREPLY=()
    for ((i = 1; i < COMP_CWORD; i++)); do
        case ${COMP_WORDS[i]} in
        -*) ;;
        *)
            command=${COMP_WORDS[i]}
            break
            ;;
        esac
    done
    if [[ -z $command ]]; then
        choices="--help --version $("${COMP_WORDS[0]}" --help 2>/dev/null |
            sed -n 's/^  \([a-z][a-z]*\)  *[a-z].*/\1/p')"
    elif [[ $word == -* ]]; then
        choices=$("${COMP_WORDS[0]}" "$command" --help 2>/dev/null |
            sed -n 's/^  \(--[a-z-]*\).*/\1/p')
    elif [[ $before == --format ]]; then
        choices='data svg png geojson json gpkg gpx moves materials card sheet map'
    fi
    mapfile -t COMPREPLY < <(compgen -W "$choices" -- "$word")
    if [[ -n $command && $word != -* && $before != --format ]]; then
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        compopt -o filenames 2>/dev/null
    fi
}
complete -F _foldwright foldwright
