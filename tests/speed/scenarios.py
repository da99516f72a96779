"""All scenarios compared with the whole enumeration: what was proven, who wins by how much, how surely, what flips it.

    python -m tests.speed.scenarios              all of them, one process after the other
    python -m tests.speed.scenarios ranch cabin  those again, the other rows as they stand
    python -m tests.speed.scenarios --recheck ranch   only 20 draws of it simulated again in full, beside its row

Rows are kept in `scenarios/results.json`; `scenarios/RESULTS.md` is written from them. Nothing in it is typed by hand,
nothing is asserted. Times and memory vary with the machine.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import time
from pathlib import Path

from compare.commands.argued import checked_lines
from compare.commands.flip_lines import flip_sentences
from compare.commands.layout_lines import proof_sentence
from compare.commands.option_name import option_name
from compare.every_layout import with_best
from compare.house.reading import read_house
from compare.pipeline import compare_house
from compare.scoring.ranking import best_of_families
from compare.turning_points import flips_of, rechecked
from compare.zones.layouts import Layer

FOLDER = Path(__file__).parents[2] / "scenarios"
ROWS, TABLE = FOLDER / "results.json", FOLDER / "RESULTS.md"
HEAD = (
    "house",
    "rooms",
    "layouts (fully served)",
    "simulated (with outdoor forms)",
    "winner",
    "runner-up of another kind",
    "lead",
    "verdict",
    "stays",
    "s",
    "MB",
)
WORDS = {
    "single_head": "one room unit",
    "few_heads": "few room units",
    "heads_and_heaters": "room units and heaters",
    "head_each": "a unit in each room",
    "ducted_all": "all ducted",
    "mix": "mix",
}


def row_of(name: str) -> dict[str, object]:
    """One scenario worked out in this process."""
    started = time.perf_counter()
    house = read_house(FOLDER / f"{name}.toml")
    found = with_best(compare_house(house))
    rooms = [room.name for room in found.case.plan.rooms]
    ranking, proof = found.rank(), found.proof
    winner = ranking.winner
    best = best_of_families([item for item in ranking.ranked if item.place])
    sure = found.certainty()

    def named(key: str) -> str:
        result = found.by_id.get(key)
        return option_name(result.option, rooms) if result else f"layout {key}"

    family = {item.option.option_id: item.option.family for item in ranking.ranked}
    lines = list(flip_sentences(flips_of(found), winner.option.family, named, house.units.value))
    return {
        "name": name,
        "rooms": len(rooms),
        "layouts": {layer.value: proof.counts.get(layer.value, 0) for layer in Layer},
        "simulated": proof.simulated,
        "options": proof.options,
        "proof": proof_sentence(proof),
        "scatter": proof.scatter_points,
        "next": proof.next_points,
        "winner": [winner.option.family, named(winner.option.option_id), winner.total],
        "runner": [best[1].option.family, named(best[1].option.option_id), best[1].total] if len(best) > 1 else None,
        "lead": sure.lead_points,
        "verdict": sure.verdict.value,
        "stays": sure.stays_frac,
        "draws": sure.draws,
        "others": [[family[key], share] for key, share in sure.others],
        "profiles": [[name, family[ids[0]], len(ids) - 1] for name, ids in ranking.profile_winners if ids],
        "flips": lines,
        "seconds": time.perf_counter() - started,
        "memory_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0,
    }


def checked_of(name: str) -> str:
    """Twenty draws of one scenario simulated again in full, beside the scaled ones."""
    found = compare_house(read_house(FOLDER / f"{name}.toml"))
    return " ".join(checked_lines(rechecked(found)))


def table(rows: list[dict]) -> str:
    """The table and what stands behind it, as Markdown."""
    lines = [
        "# All scenarios, worked out",
        "",
        "Written by `python -m tests.speed.scenarios` from `results.json`; this program's figures under the priorities",
        "of each house file, nobody's measurement. Totals are points of 100. *Stays* is the share of joint draws of",
        "house, units, prices, credit and weights in which the winner's kind stays first.",
        "",
        f"| {' | '.join(HEAD)} |",
        "|---|--:|--:|--:|---|---|--:|---|--:|--:|--:|",
    ]
    for r in rows:
        total = sum(r["layouts"].values())
        runner = f"{WORDS[r['runner'][0]]} {r['runner'][2]:.1f}" if r["runner"] else "none"
        lines.append(
            f"| `{r['name']}` | {r['rooms']} | {total:,} ({r['layouts'][Layer.FULL.value]:,}) | {r['simulated']:,} "
            f"({r['options']:,}) | {WORDS[r['winner'][0]]} {r['winner'][2]:.1f} | {runner} | {r['lead']:.1f} | "
            f"{r['verdict']} | {r['stays']:.0%} | {r['seconds']:.0f} | {r['memory_mb']:,.0f} |"
        )
    lines += ["", "| house | winner's kind under each profile (others within 3 points) |", "|---|---|"]
    for r in rows:
        told = "; ".join(f"{name}: {WORDS[kind]} ({near})" for name, kind, near in r["profiles"])
        lines.append(f"| `{r['name']}` | {told} |")
    for r in rows:
        others = ", ".join(f"{WORDS[kind]} {share:.0%}" for kind, share in r["others"]) or "no other kind"
        lines += [
            "",
            f"## {r['name']}",
            "",
            r["proof"],
            f"Quick and full runs lie within {r['scatter']:.2f} points of each other once their mean is taken off;",
            f"the best layout that was not run in full is {r['next']:.2f} points behind.",
            "",
            f"* Winner: {r['winner'][1]}",
            *([f"* Best of another kind: {r['runner'][1]}"] if r["runner"] else []),
            f"* First in the draws: {WORDS[r['winner'][0]]} {r['stays']:.0%}, {others} ({r['draws']} draws)",
            *(f"* {line}" for line in r["flips"]),
            *([f"* {r['checked']}"] if "checked" in r else []),
        ]
    return "\n".join(lines) + "\n"


def called(*asked: str) -> dict:
    """What this module prints in a process of its own."""
    call = [sys.executable, "-m", "tests.speed.scenarios", *asked]
    return json.loads(subprocess.run(call, check=True, capture_output=True, text=True).stdout)


def main(names: list[str], *, recheck: bool) -> None:
    rows = {row["name"]: row for row in json.loads(ROWS.read_text())} if ROWS.exists() else {}
    every = sorted(path.stem for path in FOLDER.glob("*.toml"))
    for name in names or every:
        kept = {key: value for key, value in rows.get(name, {}).items() if key == "checked"}
        rows[name] = rows[name] | called("--checked", name) if recheck else called("--row", name) | kept
        ROWS.write_text(json.dumps([rows[key] for key in every if key in rows], indent=1) + "\n", encoding="utf-8")
        TABLE.write_text(table([rows[key] for key in every if key in rows]), encoding="utf-8")
        row = rows[name]
        print(f"{name}: {row['verdict']}, {row['seconds']:.0f} s, {row['memory_mb']:.0f} MB", flush=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--row"]:
        print(json.dumps(row_of(sys.argv[2])))
    elif sys.argv[1:2] == ["--checked"]:
        print(json.dumps({"checked": checked_of(sys.argv[2])}))
    else:
        main([name for name in sys.argv[1:] if name != "--recheck"], recheck="--recheck" in sys.argv)
