"""Arguments in, exit code out: the one place where an error is printed.

Exit codes: 0 fine; 1 something to put right in what was asked or in a file; 2 wrong usage; 3 a defect of ours;
130 interrupted from the keyboard; 143 and 129 when the system ended the program or the terminal went away.
"""

from __future__ import annotations

import os
import sys
import tempfile
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from bench.cli.home import asks_for_nothing, home_of
from bench.errors import BenchError

if TYPE_CHECKING:
    from bench.cli.distance import Digits
    from bench.cli.pedal import PedalRequest
    from bench.cli.pour import PourRequest
    from bench.store.paths import Home

FINE, TO_PUT_RIGHT, WRONG_USAGE, DEFECT, INTERRUPTED = 0, 1, 2, 3, 130

STOPPED = (
    "pourbench met something it was not made for and stopped. What was saved is kept: start it again to go on."
)
WENT_ON = "pourbench met something it was not made for and opened its screen again. The session went on."


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program with these arguments, the command line's by default, and return its exit code."""
    given = list(sys.argv[1:] if argv is None else argv)
    try:
        code = _run(given)
        sys.stdout.flush()
    except BenchError as error:
        _say(str(error))
        return TO_PUT_RIGHT
    except BrokenPipeError:
        _drop_output()
        return FINE
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:  # noqa: BLE001 - a defect becomes one sentence here and nowhere else
        _say(_confess(error, given, STOPPED))
        return DEFECT
    return code


def _run(argv: Sequence[str]) -> int:
    if asks_for_nothing(argv):
        return _open_screen(argv, None)
    from bench.cli.parser import build_parser

    parser = build_parser(lambda: home_of(argv), draw=_draw, argv=argv)
    arguments = parser.parse_args(argv)
    if arguments.version:
        from importlib.metadata import version

        from bench.cli.output import emit_lines

        emit_lines([f"pourbench {version('pourbench')}"])
        return FINE
    if arguments.run is not None:
        code: int = arguments.run(arguments)
        return code
    return _open_screen(argv, arguments.request(arguments) if arguments.request else None)


def _draw(columns: int, rows: int) -> Digits:
    """The figures of the countdown: the command line stands beside the screen and may not ask it itself."""
    from bench.cli.distance import Digits
    from bench.tui.digits import main_digits

    drawing = main_digits(columns, rows)
    return Digits(lines=drawing.lines, widths_high=drawing.halves_high) if drawing else Digits()


def _open_screen(argv: Sequence[str], request: PourRequest | PedalRequest | None) -> int:
    unfit = unfit_terminal()
    if unfit:
        _say(unfit)
        return WRONG_USAGE
    home = home_of(argv)
    went_on: list[str] = []

    def report(error: Exception) -> str:
        went_on.append(_confess(error, argv, WENT_ON))
        return went_on[-1]

    try:
        if request is None:
            from bench.tui.opening import open_bench

            return open_bench(home, report)
        from bench.cli.pedal import PedalRequest

        if isinstance(request, PedalRequest):
            return _open_pedal(home)
        from bench.cli.shelf import session_for

        session, settings = session_for(home, request)
        from bench.tui.app import Asked
        from bench.tui.opening import open_bench
        from bench.tui.past import first_unfinished

        waits = first_unfinished(home) if request.speed is None else None
        asked = Asked(session=session, settings=settings, speed=request.speed, waits=waits)
        return open_bench(home, report, asked)
    finally:
        # The screen showed them for a while only.
        for sentence in went_on:
            _say(sentence)


def _open_pedal(home: Home) -> int:
    from bench.cli.shelf import settings_in
    from bench.tui.pedal_app import open_pedal

    return open_pedal(home, settings_in(home).keys)


def unfit_terminal() -> str:
    """Why the screen cannot open here, in one sentence; empty when it can.

    Keys come from stdin and pictures go to stderr. A terminal that is not there would be read for ever.
    """
    if not (sys.stdin and sys.stdin.isatty() and sys.stderr.isatty()):
        return (
            "The bench needs a terminal for its keys and its screen. Verbs such as plan and log work without one."
        )
    if os.environ.get("TERM") == "dumb":
        return "A terminal of the sort TERM=dumb cannot show the bench. Verbs such as plan and log work on it."
    return ""


def _confess(error: Exception, argv: Sequence[str], what: str) -> str:
    """Writes the traceback where the user can find it and says so, with ``what`` came of it first."""
    written = "".join(traceback.format_exception(error))
    for folder in (_folder_for_defects(argv), None):
        try:
            descriptor, name = tempfile.mkstemp(prefix="pourbench-defect-", suffix=".txt", dir=folder)
            with os.fdopen(descriptor, "w", encoding="utf-8", errors="replace") as file:
                file.write(written)
        except OSError:
            continue
        return f"{what} The details are in {name}."
    said = traceback.format_exception_only(error)[-1].strip()
    return f"{what} The details could not be written down: {said}"


def _folder_for_defects(argv: Sequence[str]) -> Path | None:
    """The user's folder where it exists; None leaves it to the folder for temporary files."""
    try:
        root = home_of(argv).root
        return root if root.is_dir() else None
    except (OSError, RuntimeError):
        return None


def _say(sentence: str) -> None:
    if sys.stderr and sys.stderr.isatty():
        from bench.cli.output import columns, hung

        wide = columns(sys.stderr)
        sentence = "\n".join(row for line in sentence.split("\n") for row in hung(line, wide))
    print(sentence, file=sys.stderr)  # noqa: T201


def _drop_output() -> None:
    """Whoever read the output has seen enough; without this the interpreter would complain at its end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


if __name__ == "__main__":
    sys.exit(main())
