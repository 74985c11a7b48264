#!/usr/bin/env python3
"""made_cases.py - thousands of valid cases, varied from the demo cases: laboratory, people and numbers are invented.
SPDX-License-Identifier: GPL-3.0-or-later

    python3 tests/made_cases.py FOLDER N SEED [--three-units] [--cli SOFFIT_CLI]

With soffit-cli (or the variable SOFFIT_CLI) the passes keep the SHA-256 of the case that they saw, as the program writes it: they stand.
Without it they are of a time before that, and wait again.  The same SEED makes the same cases on every machine, and case i does not depend on N.  Sizes lie about those of data/demo:
they are no sample of any laboratory's work, and no figure of theirs says anything about real bridges."""
import argparse
import datetime
import os
import random
import subprocess

# Length, width, height of a crown in mm, as the demo cases have them; lower front teeth and the rest from memory.
SIZE = {1: (8.5, 7, 10.5), 2: (6.5, 6, 9), 3: (7.5, 8, 10), 4: (7, 8.5, 8.5), 5: (7, 8.2, 8), 6: (10.6, 10.6, 7.5), 7: (10, 10.2, 7)}
LOWER_FRONT = {1: (5.4, 6, 9), 2: (5.8, 6.2, 9.2), 3: (6.8, 7.6, 10)}

# Teeth in the order of the elevation, and what each is: A abutment, P pontic, H hanging.
THREE = [("45 46 47", "APA"), ("35 36 37", "APA"), ("25 26 27", "APA"), ("15 16 17", "APA"), ("14 15 16", "APA"), ("24 25 26", "APA"),
         ("34 35 36", "APA"), ("44 45 46", "APA"), ("44 45 46", "HAA"), ("13 12 11", "APA"), ("21 22 23", "APA"), ("12 11 21", "APA")]
OTHER = [("34 35 36 37", "APPA"), ("44 45 46 47", "APPA"), ("24 25 26 27", "APPA"), ("34 35", "AH"), ("14 15", "HA"), ("33 34 35 36 37", "AAPPA"),
         ("13 12 11 21", "AAPA"), ("13 12 11 21 22 23", "APPAPA"), ("43 42 41 31 32 33", "APPPPA")]
ROLE = {"A": "abutment", "I": "implant", "P": "pontic", "H": "hanging"}
TITLE = ["Back bridge", "Second try", "Deep bite", "Short crowns", "High smile line", "Brücke hinten rechts", "Pont postérieur", "Γέφυρα",
         "Мост боковой", "臼歯ブリッジ", "جسر خلفي", "Remake after a break", "Splint planned", "Narrow ridge"]
POLISHED = ["high-polish", "glazed-over-polish", "rubber-smooth"]
ROUGH = ["fine-ground", "coarse-ground", "glazed-over-ground", "as-fired"]
# role, initials; invented
BENCH = [("bench technician", "AK"), ("bench technician", "BM"), ("bench technician", "RO"), ("trainee", "TL")]
SUPERVISOR = ("supervisor", "VS")
RETURN = ["roof too sharp; round it", "neck too small on the tongue side", "roof still ground; polish the gum side before the glaze",
          "brush does not pass", "groove too sharp", "wrong material for a molar", "disc mark at the roof; work it out under water",
          "fit rocks", "load of the order not entered", "sides differ; shift the apex"]
WAIT = ["dentist is asked about the space", "photo of the neck is missing", "second opinion"]
START = datetime.datetime(2025, 1, 6, 8, 0)


def size_of(tooth):
    quadrant, place = divmod(tooth, 10)
    return LOWER_FRONT[place] if quadrant in (3, 4) and place in LOWER_FRONT else SIZE[place]


def mm(value):
    return f"{value:.3f}".rstrip("0").rstrip(".")


class Neck:
    """Sizes of one connector, from the room between its two teeth."""

    def __init__(self, rng, left, right, care):
        crown = min(size_of(left)[2], size_of(right)[2])
        front = left % 10 <= 3 and right % 10 <= 3
        half = rng.uniform(0.8, 0.95) if front else rng.uniform(1.2, 1.5)
        self.height = rng.uniform(3.4, 3.8) + 0.4 * care if front else rng.uniform(3.1, 3.6) + 0.9 * care
        groove = min(crown - 1.0, self.height + rng.uniform(1.7, 2.3))
        roof = groove - self.height
        self.sharp = rng.random() < 0.6 * (1 - care)
        if self.sharp:
            self.radius = rng.uniform(0.15, 0.35)
            corners = f"({mm(-half)}, 0) (0, {mm(roof)}; r {mm(self.radius)}) ({mm(half)}, 0)"
        else:
            top = half * rng.uniform(0.68, 0.8)
            self.radius = top * (rng.uniform(0.5, 0.66) + 0.2 * care)
            lean = rng.uniform(-0.12, 0.12)
            corners = (f"({mm(-half)}, 0) ({mm(-top)}, {mm(roof + lean)}; r {mm(self.radius)}) "
                       f"({mm(top)}, {mm(roof - lean)}; r {mm(self.radius)}) ({mm(half)}, 0)")
        self.corners, self.groove, self.roof = corners, groove, roof
        self.width = rng.uniform(2.7, 3.0) + 0.2 * care if front else rng.uniform(2.9, 3.2) + 0.6 * care
        self.groove_radius = rng.uniform(0.3, 0.45) if front else rng.uniform(0.3, 0.7) + 0.35 * care
        rough = rng.random() < 0.6 * (1 - care)
        self.finish = {zone: rng.choice(ROUGH if rough else POLISHED if care < 1 else POLISHED[:1]) for zone in ("roof", "legs", "groove")}
        self.finish |= {zone: rng.choice(POLISHED) for zone in ("cheek-side", "tongue-side")}
        self.rough = rough
        self.marked = rng.random() < 0.06 - 0.06 * care
        self.measured = rng.random() < 0.4 + 0.6 * care

    def xml(self, rng, between):
        out = [f'    <connector between="{between}">', f'      <outline side="gingival" corners="{self.corners}"/>',
               f'      <proposed neck-width="{mm(self.width)}" groove="{mm(self.groove)}" groove-radius="{mm(self.groove_radius)}"/>',
               "      <finish " + " ".join(f'{zone}="{state}"' for zone, state in self.finish.items()) + "/>"]
        if self.measured:
            out.append(f'      <measured height="{mm(round(self.height + rng.uniform(-0.05, 0.05), 2))}" dye="{"line" if self.marked else "clean"}"/>')
        if self.marked:
            out.append(f'      <event kind="disc" x="{mm(rng.uniform(-0.4, 0.4))}" depth="{mm(rng.uniform(0.05, 0.25))}" water="no" zone="roof"/>')
        return out + ["    </connector>"]


class History:
    """Entries in the order of time; as from before the record was chained."""

    def __init__(self, rng, begin):
        self.rng, self.time, self.line = rng, begin, []

    def add(self, who, text, kind="", before="", after="", hours=(1, 30)):
        self.time += datetime.timedelta(minutes=self.rng.randint(hours[0] * 60, hours[1] * 60))
        extra = (f' kind="{kind}"' if kind else "") + (f' before="{before}" after="{after}"' if before else "")
        if kind in ("pass", "return", "wait"):
            extra += ' limits="1.00 1.25"'
        stamp = self.time.strftime("%Y-%m-%dT%H:%M:%SZ")
        self.line.append(f'    <entry{extra} time="{stamp}" role="{who[0]}" initials="{who[1]}">{text}</entry>')


def story(rng, history, hand, necks):
    """What happened to it; the step it stands in."""
    history.add(("intake desk", "ID"), "order booked", hours=(0, 8))
    history.add(hand, "outline drawn")
    if rng.random() < 0.1:
        return "drawing"
    history.add(hand, "sent to the supervisor", "sent")
    returns = min(3, int(rng.expovariate(1.1 if any(n.sharp or n.rough for n in necks) else 3)))
    for _ in range(returns):
        history.add(SUPERVISOR, rng.choice(RETURN), "return", hours=(1, 60))
        if rng.random() < 0.12:
            return "drawing"
        radius = rng.uniform(0.2, 0.5)
        history.add(hand, "roof radius", "change", f"{radius:.2f} mm", f"{radius + rng.uniform(0.1, 0.5):.2f} mm")
        history.add(hand, "sent again", "sent", hours=(0, 4))
    if rng.random() < 0.2:
        return "last-look"
    if rng.random() < 0.08:
        history.add(SUPERVISOR, rng.choice(WAIT), "wait")
        return "last-look"
    history.add(SUPERVISOR, "seen", "pass", hours=(1, 60))
    return "handover"


def made_case(seed, i, three_units=False):
    """The XML text of case i, and its number."""
    rng = random.Random(f"{seed}/{i}/{three_units}")
    number = f"MC-{i + 1:05d}"
    teeth, roles = rng.choice(THREE if three_units or rng.random() < 0.7 else OTHER)
    teeth = [int(t) for t in teeth.split()]
    if roles == "APA" and rng.random() < 0.15:
        roles = "IPI"
    care = 1 if rng.random() < 0.55 else rng.random()  # 1: drawn and finished as it should be
    necks = [Neck(rng, teeth[k], teeth[k + 1], care) for k in range(len(teeth) - 1)]
    front = all(t % 10 <= 3 for t in teeth)
    clear = rng.random() * (1 - care / 2) > 0.75 or front and rng.random() < 0.1
    material = rng.choice(["4y", "5y"]) if clear else "3y"
    history = History(rng, START + datetime.timedelta(days=rng.randint(0, 640)))
    hand = rng.choice(BENCH)
    step = story(rng, history, hand, necks)

    worst = min(range(len(necks)), key=lambda k: necks[k].radius * necks[k].height)
    broken = step == "handover" and rng.random() < (0.16 if necks[worst].sharp and necks[worst].rough else 0.05 if necks[worst].sharp else 0.008)
    origin = []
    if broken:
        step, at = "broken", worst if rng.random() < 0.8 else rng.randrange(len(necks))
        kind = rng.choices(["scratch", "disc", "pore", "contact", "firing", "coat", "other"], [9, 3, 2, 2, 1, 1, 1])[0]
        load = f' load="{rng.randint(40, 160) * 5}"' if rng.random() < 0.2 else ""
        origin = [f'  <origin between="{teeth[at]}-{teeth[at + 1]}" zone="roof" x="{mm(rng.uniform(-0.4, 0.4))}" '
                  f'depth="{mm(rng.uniform(0.02, 0.2))}"{load} years="{mm(rng.uniform(0.2, 1.5))}" kind="{kind}" seen="ridges point back to the roof"/>']
        history.add(("dentist", ""), f"bridge parted at {teeth[at]}/{teeth[at + 1]}", hours=(24 * 60, 24 * 400))

    load = (rng.choice([200, 250, 300]) if front else rng.choice([400, 500, 600, 600, 700])) * (0.5 if "H" in roles else 1)
    out = ['<?xml version="1.0" encoding="UTF-8"?>', "<!-- Made by tests/made_cases.py: invented. -->",
           f'<case xmlns="https://soffit.invalid/case" version="1" number="{number}" title="{rng.choice(TITLE)}" step="{step}" '
           f'author="{hand[0]}" approver="supervisor">',
           f'  <order load="{load:g}" brush="{"0.8" if front else rng.choice(["0.8", "1.1", "1.3", "1.5"])}" grinding="{"yes" if rng.random() < 0.1 else "no"}"/>',
           f'  <blank enlargement="{1.2 + rng.randrange(8) / 100:.2f}" cutter="{rng.choices(["0.6", "0.8", "1.6"], [10, 5, 1])[0]}" batch="L{rng.randrange(40):02d}"/>',
           f'  <material id="{material}"/>', "  <units>"]
    for tooth, role in zip(teeth, roles):
        length, width, height = (size * rng.uniform(0.96, 1.05) for size in size_of(tooth))
        saddle = f' saddle="{rng.choice(POLISHED) if rng.random() < 0.4 * (1 - care) else "high-polish"}"' if role in "PH" else ""
        out.append(f'    <unit tooth="{tooth}" role="{ROLE[role]}" length="{mm(length)}" width="{mm(width)}" height="{mm(height)}"{saddle}/>')
    out += ["  </units>", "  <connectors>"]
    for k, neck in enumerate(necks):
        out += neck.xml(rng, f"{teeth[k]}-{teeth[k + 1]}")
    out += ["  </connectors>", f'  <bridge inside="as-fired" fit="{"rocks" if rng.random() < 0.05 * (1 - care) else "passive"}"/>']
    out.append('  <firing record="programme of the maker"/>')
    if rng.random() < 0.3 + 0.7 * care:
        out.append('  <handover note="no grinding at the necks; the size of the brush"/>')
    out += origin
    out += ["  <history>"] + history.line + ["  </history>", "</case>", ""]
    return "\n".join(out), number


AT_ONCE = 500  # cases that the program is asked about


def passes_keep(paths, cli):
    """The last pass of each case keeps the digest of the case, which the history is no part of."""
    for begin in range(0, len(paths), AT_ONCE):
        said = subprocess.run([cli, "record", "--content", *paths[begin:begin + AT_ONCE]], capture_output=True, text=True, check=True).stdout
        for line in said.splitlines():
            digest, path = line.split("  ", 1)
            with open(path, encoding="utf-8", newline="\n") as case:
                text = case.read()
            head, mark, tail = text.rpartition('<entry kind="pass"')
            if mark:
                with open(path, "w", encoding="utf-8", newline="\n") as case:
                    case.write(f'{head}{mark} content="{digest}"{tail}')


def write_cases(folder, n, seed, three_units=False, cli=os.environ.get("SOFFIT_CLI")):
    """Writes n cases as NUMBER.xml; their paths."""
    os.makedirs(folder, exist_ok=True)
    paths = []
    for i in range(n):
        text, number = made_case(seed, i, three_units)
        paths.append(os.path.join(folder, number + ".xml"))
        with open(paths[-1], "w", encoding="utf-8", newline="\n") as out:
            out.write(text)
    if cli:
        passes_keep(paths, cli)
    return paths


def main():
    read = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    read.add_argument("folder")
    read.add_argument("n", type=int)
    read.add_argument("seed")
    read.add_argument("--three-units", action="store_true")
    read.add_argument("--cli", default=os.environ.get("SOFFIT_CLI"))
    wish = read.parse_args()
    write_cases(wish.folder, wish.n, wish.seed, wish.three_units, wish.cli)


if __name__ == "__main__":
    main()
