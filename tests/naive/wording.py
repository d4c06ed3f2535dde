"""Prints a plan of this package as the text of a plan file, also with every round written out."""

from __future__ import annotations

from typing import Any

from tests.naive.work import Worker

Dict = dict[str, Any]

NAMES = {
    "C": ("soot", "#303336"),
    "S": ("sea glass", "#7fb8ad"),
    "D": ("dusk", "#544a7d"),
    "P": ("pebble", "#b9b0a2"),
    "M": ("marigold", "#e0a020"),
}


def said_lay(ask: tuple[str, str], count: int) -> str:
    form, codes = ask
    if form == "single":
        return codes if count == 1 else f"{count}{codes}"
    if form == "no bead":
        words = "no bead"
    elif form == "together":
        words = codes
    else:
        words = f"{form} {codes}"
    return words if count == 1 else f"{words} x {count}"


def said_item(item: Any) -> str:
    if item[0] == "lay":
        return said_lay(item[1], item[2])
    if item[0] == "to":
        _, ask, target, before = item
        return f"{said_lay(ask, 1)} to {f'{before} before ' if before else ''}{target}"
    _, items, times, *style = item
    inner = said(items)
    if times is None:
        return f"*{inner}; repeat from * around"
    if style == ["more"] and times > 1:
        return f"*{inner}; repeat from * {times - 1} more times"
    if style == ["brackets"]:
        return f"[{inner}] {times} times"
    if style == ["parentheses"]:
        return f"({inner}) x {times}"
    return f"*{inner}* {times} times"


def said(items: list[Any]) -> str:
    return ", ".join(said_item(item) for item in items)


def said_round(spec: Dict) -> str:
    if "items" in spec:
        check = f" ({spec['total']})" if spec.get("total") else ""
        return (f"from {spec['begins']}: " if spec.get("begins") else "") + said(spec["items"]) + check
    parts = [said_lay(spec["fill"], 1)]
    if "before" in spec and spec.get("before") == spec.get("after"):
        parts.append(f"beside ribs {said_lay(spec['before'], 1)}")
    else:
        parts += [f"{place} ribs {said_lay(spec[place], 1)}" for place in ("before", "after") if place in spec]
    parts += [f"{place} {said_lay(spec[place], 1)}" for place in ("ribs", "middle") if place in spec]
    parts += [f"over {code} {said_lay(ask, 1)}" for code, ask in spec.get("over", [])]
    return "; ".join(parts)


def runs(asks: list[Any]) -> list[Any]:
    """Equal neighbours told as one."""
    items: list[Any] = []
    for ask in asks:
        if items and items[-1][1] == ask:
            items[-1] = ("lay", ask, items[-1][2] + 1)
        else:
            items.append(("lay", ask, 1))
    return items


def rule_words(rule: Dict, pair: bool) -> str:
    if rule.get("every"):
        parts = ['at = "every space"']
    elif rule.get("sides"):
        parts = [f"sides = {rule['sides']}"]
    else:
        way = "over" if rule.get("over") else "between"
        parts = [f'{way} = "{rule[way]}"']
    if pair and rule["with"]:
        laid = rule["with"]
        parts.append(f'with = "{laid[0]}"' if len(laid) == 1 else f"with = {laid}".replace("'", '"'))
    if rule["from_round"] is not None:
        parts.append(f"from_round = {rule['from_round']}")
    if rule["rounds"] is not None:
        parts.append(f"rounds = {rule['rounds']}")
    return "{ " + ", ".join(parts) + " }"


def start_words(start: Dict) -> list[str]:
    if start["kind"] != "band":
        strand = said(runs([("single", code) for code in start["beads"]]))
        return [f'start = "{start["kind"]}"', f'beads = "{strand}"']
    top, side, bottom = start["frame"]
    lines = ['start = "MRAW band"']
    if top == side == bottom:
        lines.append(f'frame = "{top}"')
    else:
        lines.append(f'frame = {{ top = "{top}", side = "{side}", bottom = "{bottom}" }}')
    if start.get("sides"):
        plain, marker, sides = start["sides"]
        lines += [f'side = "{plain}"', f'marker = "{marker}"', f"sides = {sides}"]
    else:
        spacers = said(start.get("items") or runs([("single", code) for code in start["spacers"]]))
        lines += [f"units = {len(start['spacers'])}", f'spacers = "{spacers}"']
    if not start["reinforce"]:
        lines.append("reinforce = false")
    return lines


def work_words(work: Dict) -> list[str]:
    if work["do"] == "walk":
        return [f"walk = {work['spaces']}", f'edge = "{work["edge"]}"']
    if work["do"] == "reinforce":
        return [f'reinforce = "{work["edge"]}"']
    lines = ['stitch = "peyote"', f'edge = "{work["edge"]}"']
    if work.get("fill"):
        lines.append(f'fill = "{said_round(work["fill"])}"')
    lines.append("rounds = [")
    lines += [f'    "{said_round(spec)}",' for spec in work["rounds"]]
    lines.append("]")
    if work.get("open"):
        least, most = work["open"]
        lines.append(f'height = "{least} to {most}"' if most else 'height = "as high as you like"')
        lines.append(f"usual = {work['height']}")
    elif work["height"]:
        lines.append(f"height = {work['height']}")
    if work.get("increase"):
        lines.append(f"increase = {rule_words(work['increase'], pair=True)}")
    if work.get("decrease"):
        lines.append(f"decrease = {rule_words(work['decrease'], pair=False)}")
    if work.get("reinforce"):
        lines.append("reinforce = true")
    return lines


def as_toml(plan: Dict) -> str:
    """The plan file of this plan."""
    lines = [f'title = "{plan["title"]}"', ""]
    for code, bead in plan["beads"].items():
        name, colour = NAMES[code]
        lines += [f"[beads.{code}]", f'name = "{name}"', f'colour = "{colour}"']
        lines += ["marker = true", ""] if bead["marker"] else [""]
    for words in [start_words(plan["start"]), *(work_words(work) for work in plan["works"])]:
        lines += ["[[work]]", *words, ""]
    return "\n".join(lines)


def written_out(worker: Worker) -> Dict:
    """The plan that was worked, with every round written out from the needle and no rule left in it."""
    plan = {**worker.plan, "works": []}
    codes = worker.marker_codes()
    plan["beads"] = {code: {"marker": code in codes} for code in worker.plan["beads"]}
    for work, told in zip(worker.plan["works"], worker.told, strict=True):
        if work["do"] == "rounds":
            laps = [{"items": runs(asks)} for asks in told]
            fill = laps.pop(0) if work["fill"] else None
            work = {
                **work,
                "rounds": laps,
                "height": None,
                "open": None,
                "fill": fill,
                "increase": None,
                "decrease": None,
            }
        plan["works"].append(work)
    return plan
