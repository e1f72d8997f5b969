"""The table of commands. Modules are imported only when their command is called."""

import os
import sys
from importlib import import_module

import click

# name -> (module under planish.doors.cli, one line for --help)
GROUPS: dict[str, dict[str, tuple[str, str]]] = {
    "In a browser": {
        "serve": ("serve", "Open the desk and the counter in a browser."),
        "let-in": ("let_in", "Give a chair who cannot sign in a new passphrase, at the laptop."),
    },
    "Before the day": {
        "begin": ("begin", "Start a fair in a folder, under a rule book."),
        "people": ("people", "Add people, panels, stands and declared conflicts."),
        "take": ("take", "Take in a stand's list, as it was sent."),
        "answer": ("answer", "Answer a question that taking in a list has raised."),
        "check": ("check", "Check labels against the rule book and dated facts; also a list at home."),
    },
    "At the tables": {
        "show": ("show", "Show one object: its words, what bears on them, where it stands."),
        "note": ("note", "Record an observation: what was seen or measured, no conclusion."),
        "ballot": ("ballot", "Lock your own view of an object, or recuse yourself."),
        "settle": ("settle", "Count the ballots of an object by the rule book."),
        "move": ("move", "Record that an object changed place, with two initials."),
        "reword": ("reword", "Find the strongest sentence that every finding carries."),
        "like": ("like", "Show what was done where the same fault was found."),
        "looks": ("looks", "Plan second looks; say what may have been missed."),
        "appeal": ("appeal", "Lodge an appeal, print its bundle, record what was decided."),
    },
    "Papers": {
        "print": ("printing", "Print stand sheets, slips, wording sheets, labels, receipts."),
        "report": ("report", "Print the end-of-fair report."),
    },
    "Seals": {
        "key": ("key", "Make the fair's keys, try their recovery sheets, show the public key."),
        "seal": ("seal", "Seal what hangs, after it was read on the object."),
        "compare": ("compare", "Compare a seal's code with the words that hang."),
        "check-page": ("check_page", "Write the page on which anybody can compare sealed words."),
        "invoice": ("invoice", "Print the words for an invoice, from the sealed label."),
    },
    "Knowing": {
        "read": ("read", "Read what a label claims."),
        "measure": ("measure", "Say what one measurement tells, and what it does not."),
        "weigh": ("weigh", "Weigh a small case: evidence against a claim of date."),
        "ribbon": ("ribbon", "Draw the year ribbon of a case."),
        "facts": ("facts", "Search the fact book; show a fact with its source."),
        "rules": ("rules", "Show a rule book, or compare two."),
    },
    "Keeping": {
        "backup": (
            "backup",
            "Back the fair up to a second medium; try a sheet on it; say how safe the log is.",
        ),
        "restore": ("restore", "Make a fair again from a backup and one recovery sheet."),
        "redact": ("redact", "Delete readable text for good, by two people; the log still verifies."),
        "retention": ("retention", "Show how long texts are kept; delete what is due."),
        "own-data": ("own_data", "Write everything held about one person, for that person."),
        "ripple": ("ripple", "List every outcome that leaned on a fact, in every fair given."),
        "verify-log": ("verify_log", "Prove that no entry of the log was changed."),
        "archive": ("archive", "Write a folder that can be read and checked without planish."),
    },
}
EXITS = {"input": 2, "rule": 3, "ledger": 4}


class Commands(click.Group):
    """A group that knows its commands by a table and imports a module only to run it."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All command names in the order of the table."""
        del ctx
        return [name for commands in GROUPS.values() for name in commands]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return one command."""
        del ctx
        for commands in GROUPS.values():
            if cmd_name in commands:
                module = import_module(f"planish.doors.cli.{commands[cmd_name][0]}")
                command: click.Command = module.command
                return command
        return None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Print the table without importing anything."""
        del ctx
        for heading, commands in GROUPS.items():
            with formatter.section(heading):
                formatter.write_dl([(name, line) for name, (_, line) in commands.items()])


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Example: planish read 'Pewter flagon, c. 1720'",
)
@click.version_option(package_name="planish")
def planish() -> None:
    """Read what labels claim, weigh what objects show, and find the words a panel can sign.

    Every command takes --help, with an example, and --json where it prints a table.
    """


def main() -> None:
    """Entry point: problems are told in words and an exit code; a traceback is never shown."""
    try:
        code = planish.main(standalone_mode=False)
    except click.ClickException as error:
        error.show()
        code = error.exit_code
    except click.Abort:
        click.echo("Stopped; what was done before stands.", err=True)
        code = 130
    except BrokenPipeError:
        sys.stderr.close()
        code = 0
    except Exception as error:
        code = _told(error)
    sys.exit(code if isinstance(code, int) else 0)


def _told(error: Exception) -> int:
    """Say a refusal with its way out; anything else is a fault of planish, said so. Imported late: --help is quick."""
    from planish.errands.opening.refusing import Refused

    if isinstance(error, Refused):
        for problem in error.problems:
            click.echo(str(problem), err=True)
        return EXITS[error.kind]
    if os.environ.get("PLANISH_TRACE"):
        raise error
    if isinstance(error, OSError) and error.filename is not None:
        click.echo(
            f"{error.filename}: cannot be read or written ({error.strerror}). Nothing recorded so far is lost. Check that the "
            "place exists, has room and is yours to write in, then run the command again.",
            err=True,
        )
        return 2
    click.echo(
        f"planish: a fault of its own ({type(error).__name__}: {error}). Nothing recorded so far is lost. "
        "Set PLANISH_TRACE=1 and run the command again to see where; please tell whoever keeps planish.",
        err=True,
    )
    return 70
