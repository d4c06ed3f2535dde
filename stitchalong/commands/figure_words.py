"""The words of the commands that give figures, and of one's own gauge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stitchalong.commands.arguments import add_figure, add_json, add_tension, add_units, amount, whole

if TYPE_CHECKING:
    from stitchalong.commands.line import Line


def figures(line: Line) -> None:
    """`size`, `fit`, `beads`, `thread`, `flat`, `time`, `price`, `gauge`."""
    size = line.command(
        "size",
        "figures",
        "tell how large it comes out, on all scales of rings",
        "By your own gauge, where there is one.",
    )
    add_figure(size, "?")
    size.add_argument("--ring", metavar="SIZE", help="instead: a ring size, as “US 7” or “UK N½”, on every scale")
    add_tension(size)
    fit = line.command(
        "fit", "fit", "tell how to begin a plan so that it fits", "The nearest counts, with what each gives."
    )
    fit.add_argument("plan", metavar="PLAN", help="the name of a plan that ships, or a plan file")
    wearer = fit.add_mutually_exclusive_group(required=True)
    wearer.add_argument("--ring", metavar="SIZE", help="a finger: “US 7”, “UK N½”, “ISO 54”, “JP 14”, “54.4 mm”")
    wearer.add_argument("--hand", metavar="LENGTH", help="for a bangle: the closed hand at its widest, as 20cm")
    wearer.add_argument("--wrist", metavar="LENGTH", help="for a bracelet with a clasp: the wrist, snugly, as 16cm")
    fit.add_argument("--ease", choices=("snug", "comfortable", "loose"), help="of a bracelet; else comfortable")
    fit.add_argument("--sides", metavar="N", type=whole(1, 1000), help="how many sides; else as many as the plan has")
    fit.add_argument("--all", action="store_true", help="each count near it, every other way, and where it comes from")
    add_tension(fit)
    add_units(fit)
    add_json(fit)
    beads = line.command("beads", "figures", "tell how many beads it takes, what they weigh, what to buy")
    add_figure(beads)
    beads.add_argument("--people", metavar="K", type=whole(1, 10_000), default=1, help="for a class of so many")
    thread = line.command("thread", "figures", "tell how much thread it takes, and where it is changed")
    add_figure(thread)
    thread.add_argument("--length", metavar="LENGTH", help="of one working length; else 1.5 m")
    add_figure(line.command("flat", "figures", "tell whether it will lie flat"))
    add_figure(line.command("time", "figures", "tell how long it takes, by your own pace"))
    price = line.command("price", "figures", "tell what it costs, by the prices in the plan", "Each line is shown.")
    add_figure(price)
    price.add_argument("--hourly", metavar="N", type=amount, default=0.0, help="what an hour of work is worth")
    price.add_argument("--hours", metavar="N", type=amount, help="of work; else by your own pace")
    price.add_argument("--bought", action="store_true", help="whole packings, as bought, not the beads used")
    _gauge(line)


def _gauge(line: Line) -> None:
    gauge = line.command(
        "gauge", "gauge", "keep your own gauge", "It is used from then on. `finish --size` adds to it too."
    )
    kinds = gauge.add_subparsers(title="what to do", metavar="add, list, remove", dest="act", required=True)
    add = kinds.add_parser("add", help="keep what you measured", allow_abbrev=False)
    add.add_argument("bead", metavar="BEAD", help="its size and shape, as in “11/0 cylinder”")
    add.add_argument(
        "of", choices=("band", "weave", "columns", "rows"),
        help="units of a joined MRAW band, units of right-angle weave, columns or rows (of flat peyote, or --stitch)",
    )  # fmt: skip
    add.add_argument("count", metavar="COUNT", type=whole(1, 100_000), help="how many of them you measured over")
    add.add_argument(
        "length",
        metavar="LENGTH",
        help="how long they are, as 52mm; of a band the way round its inside, or a ring size",
    )
    add.add_argument(
        "--stitch", choices=("peyote", "square", "brick", "herringbone"), help="of columns and rows; else peyote"
    )
    add_tension(add)
    listed = kinds.add_parser("list", help="list what you measured, and the gauges it makes", allow_abbrev=False)
    add_units(listed)
    add_json(listed)
    remove = kinds.add_parser("remove", help="forget a measurement", allow_abbrev=False)
    remove.add_argument("number", metavar="NUMBER", type=whole(1, 10**9), help="its number in the list")
