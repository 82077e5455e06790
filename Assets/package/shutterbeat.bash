# Completion of shutterbeat in bash. Commands, acts and options are asked of the program itself (its --help), so that they are
# always those it has; what is left over is a file name.
_shutterbeat()
{
    local program=${COMP_WORDS[0]} current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]} word i help
    local -a asked=()
    COMPREPLY=()
    # The command, and the act after its book: words of the help so far.
    help=$("$program" --help 2>/dev/null) || return
    for ((i = 1; i < COMP_CWORD; ++i)); do
        word=${COMP_WORDS[i]}
        case $word in -*|*/*|*.*) continue ;; esac
        if sed -n '/^Subcommands:/,/^$/p' <<<"$help" | grep -q "^  $word "; then
            asked+=("$word")
            # An act stands behind the book that its command is for.
            if [ ${#asked[@]} -eq 1 ]; then
                help=$("$program" "$word" --help 2>/dev/null)
            else
                help=$("$program" "${asked[0]}" x "$word" --help 2>/dev/null)
            fi
        fi
    done
    case $previous in
        export) ;;
        -o|--output|--all) compopt -o filenames; COMPREPLY=($(compgen -f -- "$current")); return ;;
    esac
    case $current in
        -*)
            COMPREPLY=($(compgen -W "$(grep -oE '^ +(-[a-zA-Z],)?--[a-z-]+' <<<"$help" | grep -oE -- '--[a-z-]+')" -- "$current"))
            return ;;
    esac
    local acts
    acts=$(sed -n '/^Subcommands:/,/^$/s/^  \([a-z][a-z0-9-]*\) .*/\1/p' <<<"$help")
    compopt -o filenames 2>/dev/null
    if [ ${#asked[@]} -eq 0 ]; then
        COMPREPLY=($(compgen -W "$acts" -- "$current"))
    else
        COMPREPLY=($(compgen -W "$acts" -- "$current") $(compgen -f -- "$current"))
    fi
}
complete -F _shutterbeat shutterbeat
