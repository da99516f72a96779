"""Serving other devices: which names this computer has on its network, the code in the terminal, and the caution."""

from __future__ import annotations

import logging
import socket
import sys
import threading
from collections.abc import Callable

import typer

from dashboard.door import ENTER, PASSWORD_CURE, Keys, Site
from dashboard.guard import LOCAL_HOSTS
from dashboard.pairing import LIFE_S, spaced
from dashboard.role import is_here, is_near

NOWHERE = ("192.0.2.1", 9)
"""An address that RFC 5737 keeps for examples: nothing is sent to it, but the system names the way out."""
CAUTION = (
    "Careful: this goes over your network without encryption. Anyone on the same network who listens can see what the "
    "tablet shows, and could use its way in. Use a network that you trust, never one for guests. Stop with Ctrl+C when "
    "you are done."
)


def network_addresses() -> tuple[str, ...]:
    """IPv4 addresses under which other devices of a private network reach this computer, the likeliest first."""
    found: list[str] = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(NOWHERE)
            found.append(asking.getsockname()[0])
        except OSError:
            pass
    try:
        told = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
    except OSError:
        told = []
    found += [str(item[4][0]) for item in told]
    return tuple(dict.fromkeys(one for one in found if is_near(one) and not is_here(one)))


def lan_site(port: int, https_name: str = "") -> Site:
    """The site as other devices reach it."""
    name = socket.gethostname().lower()
    names = {name, f"{name.split('.')[0]}.local"} if name else set()
    hosts = {*LOCAL_HOSTS, *network_addresses(), *names, *({https_name.lower()} if https_name else ())}
    return Site(frozenset(hosts), port, lan=True, https_name=https_name.lower())


def tell(site: Site, keys: Keys, say: Callable[[str], None] = typer.echo) -> None:
    """What the terminal says at the start, with the first code."""
    where = [f"https://{site.https_name}"] if site.safe else [f"http://{a}:{site.port}" for a in network_addresses()]
    if not where:
        say("This computer is on no private network now; a tablet cannot reach it.")
    say(f"A tablet opens {' or '.join(where)}" if where else "")
    say_code(keys, say)
    if keys.hash():
        say(f"A designer on another device also opens {ENTER} there and gives the desk's password.")
    else:
        say(f"The desk opens on this computer only; for other devices set a password: {PASSWORD_CURE}")
    if not site.safe:
        say(CAUTION)


def say_code(keys: Keys, say: Callable[[str], None] = typer.echo) -> None:
    """A new code."""
    say(
        f"and types this code, once, within {LIFE_S / 60:.0f} minutes:  {spaced(keys.codes.new())}\n"
        "Press Enter here for a new code."
    )


def give_codes(keys: Keys) -> None:
    """Give a new code for every line that is typed in the terminal, until it closes; behind the program."""

    def listen() -> None:
        for _line in sys.stdin:
            say_code(keys)

    threading.Thread(target=listen, name="codes", daemon=True).start()


def quiet_log() -> None:
    """Tell pairings and refusals in the terminal, without codes, passwords or addresses."""
    logging.getLogger("hplayouts.door").setLevel(logging.INFO)
    if not logging.getLogger().handlers:
        logging.basicConfig(format="%(asctime)s %(message)s", level=logging.WARNING)
