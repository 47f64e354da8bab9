"""What a shell needs to complete the program's commands and options, from the commands themselves."""

from __future__ import annotations

import argparse
import shlex

SHELLS = ("bash", "zsh", "fish")


def commands(parser: argparse.ArgumentParser) -> dict[str, tuple[str, tuple[str, ...]]]:
    """Each command with its word of help and its long options, as they are shown."""
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            helps = {choice.dest: choice.help or "" for choice in action._choices_actions}
            for name, sub in action.choices.items():
                options = (option for each in sub._actions for option in each.option_strings if option[:2] == "--")
                found[name] = (helps.get(name, ""), tuple(options))
    return found


def script(parser: argparse.ArgumentParser, shell: str) -> str:
    """The script that `shell` (of SHELLS) is to read."""
    held = commands(parser)
    return _fish(parser.prog, held) if shell == "fish" else _bash(parser.prog, held, zsh=shell == "zsh")


def _bash(prog: str, held: dict[str, tuple[str, tuple[str, ...]]], *, zsh: bool) -> str:
    cases = "\n".join(f"    {name}) words={shlex.quote(' '.join(options))} ;;" for name, (_, options) in held.items())
    first = "autoload -U +X bashcompinit && bashcompinit\n" if zsh else ""
    return f"""{first}_{prog}() {{
  local cur="${{COMP_WORDS[COMP_CWORD]}}" words=""
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W {shlex.quote(' '.join(held))} -- "$cur"))
    return
  fi
  case "${{COMP_WORDS[1]}}" in
{cases}
  esac
  case "$cur" in
    -*) COMPREPLY=($(compgen -W "$words" -- "$cur")) ;;
    *) COMPREPLY=($(compgen -f -- "$cur")) ;;
  esac
}}
complete -o filenames -F _{prog} {prog}
"""


def _fish(prog: str, held: dict[str, tuple[str, tuple[str, ...]]]) -> str:
    lines = []
    for name, (says, options) in held.items():
        told = says.replace("\\", "").replace("'", "\\'")
        lines.append(f"complete -c {prog} -n __fish_use_subcommand -f -a {name} -d '{told}'")
        lines += [
            f"complete -c {prog} -n '__fish_seen_subcommand_from {name}' -l {option.removeprefix('--')}"
            for option in options
        ]
    return "\n".join(lines) + "\n"
