"""Whether a written `design.json` holds together, asked of the file alone.

What lies in the walls is counted again in `recount`; here it is held against areas, quantities, orders and call-offs. The bill
in the workbook and as CSV is held against it in `reconcile_bill`.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal
from math import fsum, isclose
from typing import Any

from recount import Item, billed_item, counted, leaf_of, pieces_of, raised, twin, unit_face, unit_face_by_place

Record = dict[str, Any]
FINE = 1e-6
WRITTEN = 1e-4
"""Figures are written to four decimals."""
NEAR = 1e-3
"""m, m2, l: what the rounding of a few dozen positions adds up to."""
MADE_UP = 0.25
"""m2: so much of a place may be made up in mortar, no unit being small enough."""
STEPS = {"nr": "1", "m": "0.1", "m3": "0.01", "l": "0.1", "ft": "1", "sq ft": "1", "cu ft": "0.1", "fl oz": "1"}
NO_PLACE = ("BR-STOCK-NR",)


def faults(doc: Record) -> Iterator[str]:
    """Every fault of the written result, in words with its place; none where all is well."""
    yield from _faces(doc)
    doc = still_to_build(doc)
    yield from _lists(doc)
    yield from _measured(doc)
    yield from _positions(doc)
    yield from _walling(doc)
    yield from _parts(doc)
    yield from _orders(doc)
    yield from _calls(doc)


def still_to_build(doc: Record) -> Record:
    """The result without what is in walls that stand already, which nobody measures."""
    old = {text.split(":")[0] for text in doc["not_measured"] if "stands already" in text}
    gone = {joint["id"] for joint in doc["movement_joints"] if joint["wall"] in old}

    def new(record: object) -> bool:
        if not isinstance(record, dict):
            return True
        names = (str(record.get(key) or "").split("/")[0] for key in ("wall", "leaf", "id", "where"))
        return record.get("joint") not in gone and record.get("id") not in gone and not old & set(names)

    return {key: [r for r in held if new(r)] if isinstance(held, list) and old else held for key, held in doc.items()}


def real(quantity: Record) -> float:
    """What is really built: the net, or what stands beside it where the rules bill another figure."""
    return float(quantity["net"] if quantity["as_built"] is None else quantity["as_built"])


def _near(one: float, two: float, within: float = NEAR) -> bool:
    return isclose(one, two, rel_tol=1e-6, abs_tol=within)


def _faces(doc: Record) -> Iterator[str]:
    """The face of each leaf shared out, its units counted again."""
    units = unit_face(doc)
    leaves = {leaf["id"]: leaf for leaf in doc["leaves"]}
    if sorted(leaves) != sorted(area["leaf"] for area in doc["areas"]):
        yield "areas are not of the leaves there are"
    for area in doc["areas"]:
        leaf, gross = area["leaf"], area["gross"]
        filled = fsum(area[key] for key in ("units", "mortar", "lintels", "movement_joints"))
        taken = area["openings"] + area["strips"]
        if not _near(filled + taken, gross, 1):
            yield f"{leaf}: {filled + taken} mm2 of face shared out, {gross} mm2 gross"
        if not _near(area["net"], gross - taken, 1):
            yield f"{leaf}: {area['net']} mm2 net, {gross} gross less {taken}"
        if not _near(units.get(leaf, 0.0), area["units"], max(1, 1e-6 * gross)):
            yield f"{leaf}: {area['units']} mm2 of units, {units.get(leaf, 0.0)} laid"
        if min(area[key] for key in area if key != "leaf") < -1:
            yield f"{leaf}: less than nothing in {area}"
        if gross > leaves[leaf]["length"] * leaves[leaf]["height"] + 1:
            yield f"{leaf}: {gross} mm2 gross, more than its length by its height"


def _lists(doc: Record) -> Iterator[str]:
    """Lists of the result that say the same in two ways."""
    patterns = {pattern["id"]: pattern for pattern in doc["patterns"]}
    pieces, cut = Counter[str](), Counter[str]()
    for course in doc["courses"]:
        pattern = patterns[course["pattern"]]
        pieces[pattern["unit"]] += sum(piece["deep"] for piece in pieces_of(pattern))
    for rake in doc["rakes"]:
        pieces[rake["unit"]] += rake["deep"]
    for piece in (*doc["cuts"], *doc["slope_cuts"]):
        cut[piece["unit"]] += piece["number"]
    needs = [need for lift in doc["lifts"] for need in lift["units"]]
    for unit in sorted({*pieces, *(need["unit"] for need in needs)}):
        mine = [need for need in needs if need["unit"] == unit]
        if sum(need["whole"] + need["pieces"] for need in mine) != pieces[unit]:
            yield f"{unit}: {pieces[unit]} laid, not as the lifts have it"
        if sum(need["pieces"] for need in mine) != cut[unit]:
            yield f"{unit}: {cut[unit]} pieces by size, not as the lifts have it"
        if any(need["to_buy"] != need["whole"] + need["cut_from"] for need in mine):
            yield f"{unit}: to buy is not whole ones and those that are cut"
        if any(not need["at_least"] <= need["cut_from"] <= need["pieces"] for need in mine):
            yield f"{unit}: cut from fewer than can be or more than there are pieces"
    for stock in doc["reinforcement_stock"]:
        if stock["number"] != sum(c["number"] for c in stock["cuts"]):
            yield f"stock of {stock['wall']}: {stock['number']} lengths, other cuts"
    cut_off = fsum(x * cut["number"] for s in doc["reinforcement_stock"] for cut in s["cuts"] for x in cut["pieces"])
    bars = doc["bed_reinforcement"]
    fixed = fsum(piece for bar in bars for piece in bar["pieces"])
    fixed += fsum(turn["round_corner"] for bar in bars for turn in bar["returns"]) / 2  # a bend is told of by both its bars
    if doc["reinforcement_stock"] and not _near(cut_off, fixed, 0.1 * sum(len(bar["pieces"]) for bar in bars)):
        yield f"pieces of reinforcement: {fixed} mm fixed, {cut_off} mm cut"
    for of in doc["ties"]:
        kinds = Counter(tie[2] for tie in of["placed"])
        if of["general"] != kinds["field"] or of["total"] != kinds.total() or (of["slip"] or 0) != kinds["slip"]:
            yield f"ties of {of['wall']}: {kinds} placed, not as told"


def _measured(doc: Record) -> Iterator[str]:
    """Each quantity by itself."""
    for (code, where), times in Counter((q["code"], q["where"]) for q in doc["quantities"]).items():
        if times > 1:
            yield f"{code} of {where} is measured {times} times"
    measured = {(q["code"].split("/")[0].split("-M")[0], q["where"]) for q in doc["quantities"]}
    for leaf in doc["leaves"]:
        for kind in ("WALL", "MORTAR", "SET-OUT-NR") if leaf["units"] else ():
            if (kind, leaf["id"]) not in measured:
                yield f"{leaf['id']}: no {kind} in the bill"
    for wall, leaves in Counter(leaf["wall"] for leaf in doc["leaves"]).items():
        if leaves == 2 and ("CAVITY", wall) not in measured:
            yield f"{wall}: no cavity in the bill"
    for q in doc["quantities"]:
        at = f"{q['code']} of {q['where']}"
        allowed = fsum(d["amount"] for d in q["deductions"] if d["allowed"])
        if q["gross"] is None and q["deductions"]:
            yield f"{at}: deductions from no gross"
        if q["gross"] is not None and not _near(q["gross"] - allowed, q["net"], WRITTEN * (1.5 + len(q["deductions"]))):
            yield f"{at}: {q['gross']} gross less {allowed} is not {q['net']} net"
        if q["net"] < 0 or real(q) < 0:
            yield f"{at}: less than nothing"
        if q["unit"] == "nr" and q["net"] != int(q["net"]):
            yield f"{at}: part of a thing that is counted"
        if not q["derivation"].strip() or not q["item"].strip():
            yield f"{at}: nothing is said of how it was measured"
        if (q["kind"] == "work") != (q["needed"] is None):
            yield f"{at}: {q['kind']}, {q['needed']} needed"
        if q["kind"] == "work" and (q["waste"] or q["order"] != q["net"]):
            yield f"{at}: waste or an order for work"
        if q["kind"] == "material":
            yield from _order_of_a_place(q, at)


def _order_of_a_place(q: Record, at: str) -> Iterator[str]:
    laps = q["laps"] or 0.0
    if not q["code"].startswith("UNIT-NR") and not _near(q["needed"], real(q) + laps, 2 * WRITTEN):
        yield f"{at}: {q['needed']} needed, {real(q)} fixed and {laps} in laps"
    if q["code"].startswith("UNIT-NR") and q["needed"] > q["net"]:
        yield f"{at}: {q['needed']} units for {q['net']} pieces"
    if q["order"] < q["needed"] * (100 + q["waste"]) / 100 - WRITTEN:
        yield f"{at}: {q['order']} ordered, {q['needed']} and {q['waste']} % needed"


def _positions(doc: Record) -> Iterator[str]:
    """Quantities against what lies in the walls, item by item, place by place, lift by lift; both ways."""
    there, billed = defaultdict[Item, Counter[int | None]](Counter), defaultdict[Item, list[Record]](list)
    units = sorted({pattern["unit"] for pattern in doc["patterns"]} | {rake["unit"] for rake in doc["rakes"]})
    for q in doc["quantities"]:
        if item := billed_item(q, units):
            billed[item].append(q)
            if q["laps"]:
                billed[item._replace(kind=f"laps {item.kind}")].append({**q, "net": q["laps"], "as_built": None, "parts": []})
    for item, lifts in counted(doc).items():
        there[twin(item, billed)].update(lifts)
    unsure = raised(doc)
    known_laps = {item for item, of in billed.items() if all(q["laps"] is not None for q in of)}
    for item in sorted({*there, *billed}):
        found, mine = there.get(item, {}), billed.get(item, [])
        if item.kind == "laps DPC-M" and item._replace(kind="DPC-M") not in known_laps:
            continue
        name, sum_of = " ".join(item).strip(), fsum(map(real, mine))
        if not _near(fsum(found.values()), sum_of, 0 if item.kind.endswith("-NR") else NEAR):
            yield f"{name}: {sum_of} in the bill, {fsum(found.values())} in the walls"
        elif not item.kind.startswith(("laps ", *NO_PLACE)) and not (item.kind.startswith("UNIT-") and item.where in unsure):
            shared = Counter[int | None]()
            for q in mine:
                for part in q["parts"]:
                    shared[part["lift"]] += part["net"]
            for lift in sorted({*shared, *found}, key=str):
                if not _near(shared[lift], found.get(lift, 0.0)):
                    yield f"{name}: {shared[lift]} in lift {lift} of the bill, {found.get(lift, 0.0)} in the walls"


def _walling(doc: Record) -> Iterator[str]:
    """Walling as built is the face that is built, and holds the units of every panel and lift."""
    thick = {leaf["id"]: leaf["thickness"] / 1000 for leaf in doc["leaves"]}
    built, at = Counter[str](), Counter[tuple[str, str, int | None]]()
    for q in doc["quantities"]:
        if q["code"].startswith("WALL-"):
            face = 1.0 / thick[q["where"]] if q["unit"] == "m3" else 1.0
            built[q["where"]] += real(q) * face
            for part in q["parts"]:
                at[q["where"], part["panel"], part["lift"]] += part["net"] * face
    for area in doc["areas"]:
        if not _near(built[area["leaf"]], area["net"] / 1e6, NEAR):
            yield f"{area['leaf']}: {built[area['leaf']]} m2 of walling, {area['net'] / 1e6} m2 built"
    laid, no_lintels = unit_face_by_place(doc), {area["leaf"] for area in doc["areas"] if not area["lintels"]}
    for place in sorted({*laid, *at}, key=str):
        units = laid.get(place, 0.0) / 1e6
        if units > at[place] + NEAR:
            yield f"{' '.join(map(str, place))}: {at[place]} m2 of walling, {units} m2 of units in it"
        if place[0] in no_lintels and at[place] > MADE_UP and not units:
            yield f"{' '.join(map(str, place))}: {at[place]} m2 of walling, no unit in it"


def _parts(doc: Record) -> Iterator[str]:
    """Shares by panel and lift add up to the whole and are of panels and lifts there are."""
    panels = {panel["id"]: leaf_of(panel) for panel in doc["panels"]}
    lifts = {lift["lift"] for lift in doc["lifts"]} or {None}
    for q in doc["quantities"]:
        at, parts = f"{q['code']} of {q['where']}", q["parts"]
        if not parts and real(q) and not q["code"].startswith(NO_PLACE):
            yield f"{at}: not shared out"
        if parts and not isclose(fsum(part["net"] for part in parts), real(q), abs_tol=FINE):
            yield f"{at}: shares of {fsum(part['net'] for part in parts)}, {real(q)} as built"
        if parts and q["needed"] is not None and not isclose(fsum(p["needed"] for p in parts), q["needed"], abs_tol=FINE):
            yield f"{at}: shares need {fsum(part['needed'] for part in parts)}, {q['needed']} needed"
        if len({(part["panel"], part["lift"]) for part in parts}) != len(parts):
            yield f"{at}: two shares of one place"
        for part in parts:
            if min(part["net"], part["needed"] or 0) < 0:
                yield f"{at}: a share less than nothing, {part}"
            if part["lift"] not in lifts:
                yield f"{at}: lift {part['lift']}, there is none"
            if part["panel"] is not None and q["where"] not in (panels.get(part["panel"]), part["panel"].split("/")[0]):
                yield f"{at}: in panel {part['panel']}"


def _orders(doc: Record) -> Iterator[str]:
    """One order of every material: all of it, with laps and waste, rounded up once."""
    places = defaultdict[str, list[Record]](list)
    for q in doc["quantities"]:
        if q["kind"] == "material":
            places[q["code"]].append(q)
    if sorted(places) != sorted(order["code"] for order in doc["orders"]):
        yield f"orders are not of the materials there are: {set(places) ^ {order['code'] for order in doc['orders']}}"
    whole = _bought_whole(doc)
    for order in doc["orders"]:
        code, of = order["code"], places[order["code"]]
        near = WRITTEN * (2 + len(of))
        if not _near(order["net"], fsum(map(real, of)), near):
            yield f"{code}: {order['net']} net in the order, {fsum(map(real, of))} in the bill"
        laps = None if any(q["laps"] is None for q in of) else fsum(q["laps"] for q in of)
        if (laps is None) != (order["laps"] is None) or not _near(order["laps"] or 0.0, laps or 0.0, near):
            yield f"{code}: {order['laps']} of laps in the order, {laps} in the bill"
        needed = whole[code] if code.startswith("UNIT-NR") else max(fsum(q["needed"] for q in of), whole.get(code, 0.0))
        if not _near(order["needed"], needed, near):
            yield f"{code}: {order['needed']} needed in the order, {needed} reckoned"
        if {(q["waste"], q["waste_known"]) for q in of} != {(order["waste"], order["waste_known"])}:
            yield f"{code}: another waste in the order"
        if not _near(order["with_waste"], order["needed"] * (100 + order["waste"]) / 100, near):
            yield f"{code}: {order['with_waste']} with {order['waste']} % waste on {order['needed']}"
        yield from _rounded_up(order, code, _order_step(doc, order["unit"]))
        if order["mass"] is not None and not _near(
            order["weight"], order["order"] * order["mass"], 0.0002 + order["order"] / 1e4 + _hair(doc) * order["mass"]
        ):
            yield f"{code}: {order['weight']} kg is not {order['order']} of {order['mass']} kg"


def _bought_whole(doc: Record) -> dict[str, float]:
    """What is bought in whole units and stock lengths, by code."""
    units = sorted({pattern["unit"] for pattern in doc["patterns"]} | {rake["unit"] for rake in doc["rakes"]})
    codes = {item.detail: q["code"] for q in doc["quantities"] if (item := billed_item(q, units)) and item.kind == "UNIT-NR"}
    bought = Counter(dict.fromkeys(codes.values(), 0.0))
    for lift in doc["lifts"]:
        for need in lift["units"]:
            bought[codes.get(need["unit"], need["unit"])] += need["to_buy"]
    for q in doc["quantities"]:
        if q["code"].startswith("BR-STOCK-NR/"):
            stock, thick = q["code"].split("/")[1].split("x")
            bought[f"BR-M/{thick}"] += q["net"] * float(stock) / 1000
    return bought


def _hair(doc: Record) -> float:
    """How far what is written of an order is from it: steps of feet are no whole number of its decimals."""
    return WRITTEN / 2 if "shown_in" in doc else 0.0


def _order_step(doc: Record, unit: str) -> Decimal:
    """What orders in a unit are rounded up to a multiple of: where the bill is in feet, of what it shows."""
    shown = doc.get("shown_in", {}).get(unit, {"unit": unit, "size": "1"})
    return Decimal(STEPS[shown["unit"]]) * Decimal(shown["size"])


def _rounded_up(order: Record, code: str, step: Decimal) -> Iterator[str]:
    amount = Decimal(str(order["order"]))
    over, off = amount - Decimal(str(order["with_waste"])), abs(amount - step * round(amount / step))
    if off > (Decimal(str(WRITTEN)) if step % Decimal("0.01") else 0) or not Decimal(str(-WRITTEN)) <= over < step + Decimal(
        str(WRITTEN)
    ):
        yield f"{code}: {amount} ordered, {order['with_waste']} with waste, in steps of {step}"
    if not _near(order["left_over"], order["order"] - order["needed"], WRITTEN) or order["left_over"] < 0:
        yield f"{code}: {order['left_over']} left over of {order['order']}, {order['needed']} needed"
    for pack in order["packs"]:
        if pack["holds"] <= 0:
            yield f"{code}: a {pack['name']} holds {pack['holds']}"
            continue
        least = Decimal(str(order["with_waste"])) / Decimal(str(pack["holds"]))
        slack = 2 * Decimal(str(WRITTEN)) / Decimal(str(pack["holds"])) + Decimal(str(order["packs"][0]["number"])) / 10**6
        if (
            not (least - slack).to_integral_value(ROUND_CEILING)
            <= pack["number"]
            <= (least + slack).to_integral_value(ROUND_CEILING)
        ):
            yield f"{code}: {pack['number']} {pack['name']}s of {pack['holds']} for {order['with_waste']}"


def _calls(doc: Record) -> Iterator[str]:
    """What is called off is the order; what lifts need is what their shares of the bill need."""
    shares = defaultdict[str, Counter[int | None]](Counter)
    for q in doc["quantities"]:
        for part in q["parts"] if q["kind"] == "material" else ():
            shares[q["code"]][part["lift"]] += part["needed"]
    kilograms = 0.0
    for order in doc["orders"]:
        code, lifts = order["code"], {need["lift"]: need["needed"] for need in order["lifts"]}
        kilograms += order["weight"] or 0.0
        if not isclose(fsum(lifts.values()), order["needed"], abs_tol=FINE):
            yield f"{code}: the lifts need {fsum(lifts.values())}, {order['needed']} needed"
        if not isclose(
            fsum(call["order"] for call in order["call_off"]), order["order"], abs_tol=FINE + len(order["call_off"]) * _hair(doc)
        ):
            yield f"{code}: {fsum(call['order'] for call in order['call_off'])} called off, {order['order']} ordered"
        for n, pack in enumerate(order["packs"]):
            if sum(call["packs"][n] for call in order["call_off"]) != pack["number"]:
                yield f"{code}: other {pack['name']}s called off than ordered"
        if any(call["order"] < 0 or min(call["packs"], default=0) < 0 for call in order["call_off"]):
            yield f"{code}: less than nothing is called off"
        if not code.startswith(("UNIT-NR", "BR-M")):
            for lift in sorted({*lifts, *shares[code]}, key=str):
                if not _near(lifts.get(lift, 0.0), shares[code][lift]):
                    yield f"{code}: lift {lift} needs {lifts.get(lift, 0.0)}, {shares[code][lift]} by its shares"
    for lift in doc["lifts"]:
        for need in lift["units"]:
            words = f"Units: {need['unit'].replace('_', ' ')}, "
            mine = [o for o in doc["orders"] if o["code"].startswith("UNIT-NR") and o["item"].startswith(words)]
            if [n["needed"] for o in mine for n in o["lifts"] if n["lift"] == lift["lift"]] != [need["to_buy"]]:
                yield f"{need['unit']}: lift {lift['lift']} needs {need['to_buy']}, not as ordered"
    if not _near(fsum(lift["kg"] for lift in doc["lift_weights"]), kilograms, NEAR * (1 + len(doc["orders"]))):
        yield f"lifts weigh {fsum(lift['kg'] for lift in doc['lift_weights'])} kg, orders {kilograms} kg"
