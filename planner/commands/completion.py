"""`planner --print-completion bash|zsh`: what a shell reads so that it completes commands, files and keys.

Names of the person's own stand in keys, so no list of them is ever given to the shell to expand: each is compared and
quoted as plain text.
"""

from planner.commands.table import COMMANDS, FINE, WRONG, wrong

_BASH = """# planner: completion for bash. Put this line in ~/.bashrc:
#   eval "$(planner --print-completion bash)"
_planner() {
    local word="${COMP_WORDS[COMP_CWORD]}" key quoted
    COMPREPLY=()
    if (( COMP_CWORD == 1 )); then
        COMPREPLY=($(compgen -W "COMMANDS" -- "$word"))
    elif [[ ${COMP_WORDS[1]} == change && $COMP_CWORD -gt 2 && $word != -* ]]; then
        compopt -o nospace
        while IFS= read -r key; do
            printf -v quoted %q "$key"
            [[ $key == "$word"* || $quoted == "$word"* ]] && COMPREPLY+=("$quoted=")
        done < <(planner keys "${COMP_WORDS[2]}" 2>/dev/null)
    fi
}
complete -o default -F _planner planner
"""
_ZSH = """#compdef planner
# planner: completion for zsh. Put this line in ~/.zshrc, after compinit:
#   eval "$(planner --print-completion zsh)"
_planner() {
    if (( CURRENT == 2 )); then
        compadd -- COMMANDS
    elif [[ $words[2] == change && CURRENT -gt 3 && $words[CURRENT] != -* ]]; then
        compadd -S = -- "${(@f)$(planner keys "${(Q)words[3]}" 2>/dev/null)}"
    else
        _files
    fi
}
compdef _planner planner
"""
_SHELLS = {"bash": _BASH, "zsh": _ZSH}


def run(arguments: list[str]) -> int:
    if len(arguments) != 1 or arguments[0] not in _SHELLS:
        read = " ".join(arguments)[:60]
        wrong(f"planner --print-completion: read '{read}'; accepted: bash or zsh")
        return WRONG
    print(_SHELLS[arguments[0]].replace("COMMANDS", " ".join(COMMANDS)), end="")
    return FINE
