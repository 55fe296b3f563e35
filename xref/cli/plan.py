"""`xref plan`: the move of modules, from a plan file to lists to work by."""

from __future__ import annotations

import typer

from xref.cli import plan_done, plan_labels, plan_new, plan_show, plan_todo
from xref.cli.terminal import results

#: What a plan is good for; `xref plan` alone says so.
SUBCOMMANDS = {
    "new": plan_new.run,
    "show": plan_show.run,
    "labels": plan_labels.run,
    "todo": plan_todo.run,
    "done": plan_done.run,
}


def run(ctx: typer.Context) -> int | None:
    """Plan the move of modules: what is cut, joined, capped, and what is still open.

    Start with `xref plan new COMPONENT… -o PLAN.toml`, fill in the places, then `xref plan show PLAN.toml`.
    """
    if ctx.invoked_subcommand is not None:
        return None
    for text in ctx.get_help().splitlines():
        results().line(text)
    return 0
