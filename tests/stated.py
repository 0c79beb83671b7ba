"""The sentence on a condition, held against the rest of `judge --json`: verdict, deciding emission, its figures."""
CODES = {
    "complies": {"states-below", "states-part-below", "states-unseen", "states-clear"},
    "exceeds": {"states-exceeds"},
    "inconclusive": {"states-within-u", "states-part-straddles"},
    "not proven": {"states-floor", "states-whose", "states-ambient", "states-bound", "states-coarse", "states-not-swept", "states-uncalibrated",
                   "states-unresolved", "states-no-power", "states-more-power", "states-no-carrier", "states-gap"},
    "no limit": {"states-no-limit"},
}


def proven_order(condition):
    """The highest order up to which every harmonic complies; None: not even the 2nd."""
    complying = {e["order"] for e in condition["emissions"] if e["order"] and e["verdict"] == "complies"}
    order = 1
    while order + 1 in complying:
        order += 1
    return order if order > 1 else None


def belied(condition):
    """What the sentence says against the other figures of the condition, in words."""
    code, values, sentence, found = condition["statement_code"], condition["statement_values"], condition["statement"], []

    def must(holds, what):
        if not holds:
            found.append(f"{condition['name']}: {what}: {sentence} {values}")
    must(code in CODES[condition["verdict"]], f"{code} beside {condition['verdict']}")
    must(sentence.lower().startswith(condition["verdict"] + ": "), "the sentence begins with another verdict")
    must("{" not in sentence and "nan" not in sentence.lower(), "a place is left open")
    if "proven_order" in values:
        must(values["proven_order"] == proven_order(condition), "clean up to another order")
    if "at_hz" in values:
        same = [e for e in condition["emissions"] if e["frequency_hz"] == values["at_hz"] and e["verdict"] == condition["verdict"]]
        must(same, "about an emission of another verdict")
        e = same[0] if same else None
        room = e and e["deciding_margin_db"]
        if e and code in ("states-below", "states-part-below", "states-unseen", "states-exceeds", "states-within-u", "states-floor"):
            must(abs(values["off_db"] - abs(room)) < 1e-9, "another figure than its room")
            must(room == condition["deciding_margin_db"], "another emission than the one that decides")
        if e and code == "states-exceeds":
            must(room < 0, "exceeds, and is not over the limit")
        if e and "over" in values and values["off_db"] is not None:
            must(values["over"] == ((room if code != "states-whose" and code != "states-ambient" else e["margin_db"]) < 0), "over where it is under")
    if values.get("short_db") is not None and not values.get("over"):
        must(values["short_db"] > 0, "nothing is short, and it is not proven")
    if code == "states-gap":
        must(any(g["from_hz"] == values["from_hz"] and g["to_hz"] == values["to_hz"] and g["why"] == values["why"] for g in condition["gaps"]), "no such gap")
        must(values["others"] == len(condition["gaps"]) - 1, "another number of gaps")
    if values.get("nothing_seen"):
        must(not any(e["detected"] for e in condition["emissions"]), "something was seen")
    return found
