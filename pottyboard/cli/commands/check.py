"""The commands ``check``, which reads the whole log, and ``restore``, which brings entries back."""

from __future__ import annotations

from argparse import ArgumentParser

from pottyboard.board.keys.board_file import read_board_file
from pottyboard.cli.commands.request import Request
from pottyboard.cli.output.messages import DONE, exit_code, warn
from pottyboard.core.log.ahead import ahead_words
from pottyboard.papers.replies import check_text, restored_text, version_text, versions_text
from pottyboard.store import StoreError
from pottyboard.store.restoring import Version, bring_back, kept_aside, versions


def check_options(parser: ArgumentParser) -> None:
    """Add that what was told has been read."""
    parser.add_argument(
        "--noted", action="store_true", help="what was told is known: say it no more"
    )


def run_check(request: Request) -> int:
    """Read everything, and say what is damaged, how much there is and where."""
    household, dog, damaged = request.household, request.args.dog, False
    for name in (dog,) if dog else household.dogs() or (None,):
        try:
            dog_log = household.dog_log(dog) if dog or not name else household.in_folder(name)
            settings, events = dog_log.settings, dog_log.events
            told = [*dog_log.notices, ahead_words(events, request.now, settings), *dog_log.kept]
            told = [*dict.fromkeys(filter(None, told))]
            aside = kept_aside(dog_log)
            print(check_text(dog_log.folder, settings, events, told, aside))
            if request.args.noted:
                dog_log.acknowledge()
            damaged = damaged or bool(told)
        except StoreError as error:
            warn(str(error))
            damaged = True
    if problems := read_board_file(household.folder).problems:
        for words in problems:
            warn(words)
        damaged = True
    return exit_code(not damaged)


def restore_options(parser: ArgumentParser) -> None:
    """Add which version, and whether in earnest."""
    words = "which one: a number or a name from the list; none lists them"
    parser.add_argument("version", nargs="?", metavar="VERSION", help=words)
    parser.add_argument("--yes", action="store_true", help="do it; else it is only shown")


def run_restore(request: Request) -> int:
    """List the earlier versions of a log, show what one would bring back, or bring it back."""
    args, dog_log = request.args, request.dog_log
    settings, known = dog_log.settings, versions(dog_log)
    if args.version is None:
        print(versions_text(known, settings))
        return DONE
    version = _chosen(args.version, known)
    print(version_text(version, settings))
    if not version.coming:
        return DONE
    if not args.yes:
        print("Nothing was saved. To save it: the same once more with --yes")
        return DONE
    back = bring_back(dog_log, version, request.now)
    request.saved = True
    print(restored_text(len(back), settings.dog.name, args.dog))
    return DONE


def _chosen(text: str, known: tuple[Version, ...]) -> Version:
    for number, version in enumerate(known, 1):
        if text in (str(number), version.name, str(version.path)):
            return version
    raise StoreError(f"There is no version “{text}”: pottyboard restore lists them.")
