#!/usr/bin/env python3
# test_journey.py - from a photo to a drawing: scaled, traced, a flank mended, part of the best outline, compared, exported.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_journey.py SOFFIT SOFFIT_CLI SOURCE_ROOT.  Needs what test_window.py needs; pictures, sizes and languages: person.py.
import json
import os
import re
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import made_photo
from person import (PATIENCE_S, Window, check, drawing_of, extents, look, nameless, outside, picture, press, said, start, stop, tap, xdo)

CONNECTOR = '35/36'
SIDE = {'gingival', 'occlusal', 'buccal', 'lingual'}
RULER_MM = made_photo.RULER_X[1] - made_photo.RULER_X[0]
MOVE_MM = (-2, 3)  # steps of 0.05 mm from where the scaled photo lies: made_photo.ORIGIN
SVG = '{http://www.w3.org/2000/svg}'


def number(text):
    return float(text.replace('−', '-').replace(',', '.'))


class Journey:
    def __init__(self, program, window):
        self.program, self.window = program, window

    def says(self, msgid, whole=True):
        return said(self.program, msgid, whole)

    def words(self, msgid):
        """As it is typed or shown, not as a pattern."""
        return re.sub(r'\\(.)', r'\1', self.says(msgid, whole=False))

    def see(self, what, msgid, top=None):
        pattern = self.says(msgid)
        return look(what, lambda: next((m for a in self.window.shown(top) if (m := re.search(pattern, a.name or '', re.S))), None))

    def button(self, msgid, top=None):
        return look('the button ' + msgid, lambda: next((a for a in self.window.shown(top) if a.name == self.words(msgid) and
                    'button' in a.getRoleName() and a.getState().contains(self.window.atspi.STATE_SENSITIVE)), None))

    def drawing(self):
        pattern = self.says('Drawing of connector %s: %s, pulled %s MPa (%s) at most').replace('(.*?)', re.escape(CONNECTOR), 1)
        return next((a for a in self.window.shown() if re.search(pattern, a.name or '')), None)

    def to_drawing(self):
        """The keys go to the drawing again, by F6."""
        pattern = self.says('Drawing of connector %s: %s, pulled %s MPa (%s) at most')
        return self.window.tab_to(pattern, key='F6', most=8)

    def told(self, msgid):
        """What the drawing says last."""
        return look(msgid, lambda: re.search(self.says(msgid), self.drawing().description or ''))

    def peak(self):
        """MPa, once the answer is the one at rest, or the refined one after it."""
        rest = '|'.join(map(self.words, ('at rest', 'refined')))
        if any(re.search(', (%s) · ' % rest, a.name or '') for a in self.window.shown()):
            return number(re.search(self.says('Drawing of connector %s: %s, pulled %s MPa (%s) at most'), self.drawing().name)[3])
        return None

    def reading(self, name):
        """Figure, low, high of a reading that has a band."""
        for a in self.window.shown():
            if m := re.match(r'%s: ([\d.,]+) mm \(([\d.,]+)–([\d.,]+)\)' % re.escape(self.words(name)), a.name or ''):
                return [number(m[i]) for i in (1, 2, 3)]
        return None


def file_typed(window, path):
    """In the file dialog, which says no name of its own: the path typed, as GTK opens its line for a path."""
    other = look('the file dialog', lambda: next((i for i in window.find_ids() if i != window.id), None))
    xdo('windowfocus', '--sync', other, 'key', 'ctrl+a', 'type', '--delay', 4, path)
    xdo('key', 'Return')
    look('the file dialog gone', lambda: other not in window.find_ids())
    xdo('windowfocus', '--sync', window.id)


# ---- what is seen on the screen ----

def ruler_ticks(window, drawing):
    """Where the two blue ticks of the ruler are on the screen, px: as a person sees them, by their colour."""
    box = extents(drawing)
    data = subprocess.run(['import', '-window', window.id, '-crop', '%dx%d+%d+%d' % (box.width, box.height, box.x, box.y),
                           '-depth', '8', 'rgb:-'], check=True, timeout=PATIENCE_S, stdout=subprocess.PIPE).stdout
    if len(data) != 3 * box.width * box.height:
        return None
    red, green, blue = data[0::3], data[1::3], data[2::3]
    columns = {}  # those that hold a good piece of blue
    for i, (r, g, b) in enumerate(zip(red, green, blue)):
        if b - r > 70 and b - g > 70:
            columns.setdefault(i % box.width, []).append(i // box.width)
    columns = {x: rows for x, rows in columns.items() if len(rows) > 12}
    if not columns:
        return None
    middle, ticks = (min(columns) + max(columns)) / 2, []
    for left in (True, False):
        of = [(x, y) for x, rows in columns.items() if (x < middle) == left for y in rows]
        if not of:
            return None
        ticks.append((box.x + sum(x for x, _ in of) / len(of) + 0.5, box.y + sum(y for _, y in of) / len(of) + 0.5))
    return ticks if ticks[1][0] - ticks[0][0] > 50 else None


def at_rest(window, find):
    """The same twice: what moves is still."""
    last = None

    def same():
        nonlocal last
        before, last = last, find()
        return last if last == before else None
    return look('the photo at rest', same)


def photo_px(ticks):
    """From mm of the photo to px of the screen, by its ruler."""
    scale = (ticks[1][0] - ticks[0][0]) / RULER_MM
    x0, y0 = (ticks[0][0] + ticks[1][0]) / 2 - scale * sum(made_photo.RULER_X) / 2, (ticks[0][1] + ticks[1][1]) / 2 + scale * sum(made_photo.RULER_Y) / 2
    return lambda x, y: (round(x0 + scale * x), round(y0 - scale * y))


def stroke(points):
    xdo('mousemove', *points[0], 'mousedown', 1)
    for point in points[1:]:
        xdo('mousemove', *point)
    xdo('mouseup', 1)


# ---- the steps ----

def photo(j, folder):
    """Opened by its card, scaled by two ticks of its ruler, moved onto the tissue line."""
    path = os.path.join(folder, 'neck.png')
    with open(path, 'wb') as f:
        f.write(made_photo.png())
    xdo('key', 'f')
    press(j.button('Open…'))
    file_typed(j.window, path)
    ticks = at_rest(j.window, lambda: ruler_ticks(j.window, j.drawing()))
    picture('1-photo')
    tap(j.window, j.words('Scale'))
    press(j.button('Mark places'))
    for n in range(3):
        look('%d marks' % n, lambda: j.window.named(r'^%d \w+\. ' % n))
        if n < 2:
            xdo('mousemove', *map(round, ticks[n]), 'click', 1)
    tap(j.window, j.words('Distance of neighbouring marks'))
    xdo('key', 'ctrl+a', 'type', '%.0f' % RULER_MM)
    xdo('key', 'Tab')
    picture('2-marks')
    check(not (found := nameless(j.window)), 'everything that takes the focus has a name beside the photo', *found)
    press(j.button('Set scale'))
    scale = j.see('the scale', '1 mm is %s px, known to ± %s %%. That much wider are the bands of what is traced on it; marks must lie '
                  'in the plane of the line.')
    check(abs(number(scale[1]) / made_photo.PX_MM - 1) < number(scale[2]) / 100, 'the photo has its scale:', scale[1], 'px/mm ±', scale[2], '%')
    tap(j.window, j.words('Photo'))
    tap(j.window, j.words('Move'))
    for key, steps in (('Left' if MOVE_MM[0] < 0 else 'Right', MOVE_MM[0]), ('Up' if MOVE_MM[1] > 0 else 'Down', MOVE_MM[1])):
        for _ in range(abs(steps)):
            xdo('key', key)
    ticks = at_rest(j.window, lambda: ruler_ticks(j.window, j.drawing()))
    picture('3-moved')
    return photo_px(ticks), number(scale[2])


def trace(j, px, percent):
    """The pen along the edge of the piece, seen from near: the radius read is the true one, within a band that knows of the photo."""
    xdo('key', 'd')
    before = look('an answer', j.peak)
    stroke([px(*p) for p in made_photo.line()])
    after = look('another answer', lambda: (p := j.peak()) and p != before and p)
    picture('4-traced')
    radius, low, high = look('the radius with its band', lambda: j.reading('Roof radius'))
    print('# radius %.2f (%.2f-%.2f), true %.2f; %.0f -> %.0f MPa' % (radius, low, high, made_photo.RADIUS, before, after))
    check(low <= made_photo.RADIUS <= high and high - low < 0.2, 'the radius read from the photo is the true one:', radius, low, high)
    press(next(a for a in j.window.shown() if (a.name or '').startswith(j.words('Roof radius') + ': ')))
    told = j.says('%s\nThe line was traced on a photo whose scale is known to ± %s %%: this size is known to ± %s %%.').removesuffix('$')
    band = look('the band told', lambda: next(  # what the pen left open follows
        (m for a in j.window.shown() if (m := re.search(told, a.name or '', re.S))), None))
    check(number(band[2]) == percent, 'and tells how well the scale is known:', band[2], '%')
    picture('5-band')
    xdo('key', 'Escape')
    return after


def compare(j, variants):
    """The outline as it is now pinned, too."""
    xdo('key', 'c')
    title = j.words('Compare variants')
    dialog = j.window.dialog(title)
    press(j.button('Pin the outline as it is', dialog))
    name = j.words('Name of the variant')
    look('the variants', lambda: sum(a.name == name and a.getRoleName() == 'text' for a in j.window.shown(dialog)) == variants)
    return title, dialog


def pin(j):
    title, _ = compare(j, 1)
    picture('6-pinned')
    xdo('key', 'Escape')
    j.window.dialog_gone(title)


def mend(j):
    """The knot in the right flank, by keys alone."""
    place = 'Knot %zu of %zu, %s: %s, %s mm'
    j.to_drawing()
    xdo('key', 'k', 'key', 'n')
    n = int(j.told(place)[2])
    for _ in range(n):
        at = j.told(place)
        if number(at[4]) > 0.3 and 0.4 < number(at[5]) < 2.3:
            break
        was = at[1]
        xdo('key', 'n')
        look('the next knot', lambda: j.told(place)[1] != was)
    x = number(at[4])
    xdo('key', 'Right', 'key', 'shift+Right')
    check(look('the knot moved', lambda: abs(number(j.told(place)[4]) - x - 0.11) < 0.006), 'a flank is mended by keys, and told:', *at.groups())
    picture('7-mended')
    xdo('key', 'Left', 'key', 'shift+Left')
    look('the knot back', lambda: abs(number(j.told(place)[4]) - x) < 0.006)
    xdo('key', 'Right')
    look('the knot out', lambda: abs(number(j.told(place)[4]) - x - 0.1) < 0.006)
    return look('its answer', j.peak)


def best(j):
    """Half the way to the best outline, by keys."""
    before = look('an answer', j.peak)
    xdo('key', 'b')
    look('the best outline', lambda: next((a for a in j.window.shown() if a.name == j.words('Take whole') and
         a.getState().contains(j.window.atspi.STATE_SENSITIVE)), None))
    picture('8-best')
    scale = j.words('Part of the way to the best outline')
    def way(): # per cent
        return next(a.queryValue().currentValue for a in j.window.shown() if a.name == scale)
    def first(): # a key while the search is on is taken and moves nothing
        xdo('key', 'Right')
        end = time.monotonic() + 2
        while not way() and time.monotonic() < end:
            time.sleep(0.1)
        return way()
    at = look('a first step', first)
    while at < 49.9:
        xdo('key', 'Right')
        at = look('a step beyond %g' % at, lambda: (now := way()) > at + 4.9 and now)
    check(abs(at - 50) < 0.1, 'ten keys are half the way', at)
    half = look('less pull', lambda: (p := j.peak()) and p < before and p)
    picture('9-half')
    xdo('key', 'Return')
    look('the search put away', lambda: not any(a.name == scale for a in j.window.shown()))
    check(abs(look('the half kept', j.peak) / half - 1) < 0.02, 'half the best outline is taken by keys:', before, '->', half, 'MPa')
    return half


def difference(j):
    """Both variants side by side, the difference in words."""
    title, dialog = compare(j, 2)
    first = j.words('Show') + ': ' + j.words('Variant %u').replace('%u', '').replace('(.*?)', '') + '1'
    box = extents(look('the first', lambda: next((a for a in j.window.shown(dialog) if a.name == first), None)))
    press_at(j, dialog, box)
    pull = re.escape(j.words("Pull at the order's load")) + ': ' + j.says('%s %% more', whole=False) + ';'
    told = look('the difference', lambda: next((m for a in j.window.shown(dialog) if (m := re.search(pull, a.name or ''))), None))
    check(number(told[1]) > 3, 'compared with the first: it pulls more', told.string)
    picture('10-compared')
    check(not (found := nameless(j.window, dialog, 6)), 'everything that takes the focus has a name among the variants', *found)
    xdo('key', 'Escape')
    j.window.dialog_gone(title)


def press_at(j, dialog, box):
    """Check buttons have no action: a click where they are, in the dialog that has the keys."""
    other = look('the dialog on the screen', lambda: next((i for i in j.window.find_ids() if i != j.window.id), None))
    xdo('mousemove', '--window', other, box.x + box.width // 2, box.y + box.height // 2, 'click', 1)


def export(j, cli, folder):
    """As SVG in mm, four outlines with their names."""
    path = os.path.join(folder, 'out.svg')
    radius = j.reading('Roof radius')[0]
    xdo('key', 'ctrl+shift+e')
    file_typed(j.window, path)
    look('the file', lambda: os.path.exists(path) and os.path.getsize(path))
    top = xml.etree.ElementTree.parse(path).getroot()
    ids = {p.get('id') for p in top.iter(SVG + 'path')}
    check(SIDE <= ids, 'the drawing has the four outlines by name', *sorted(ids))
    size = [re.fullmatch(r'([\d.]+)mm', top.get(name)) for name in ('width', 'height')]
    part = [float(v) for v in top.get('viewBox').split()]
    check(all(size) and [float(m[1]) for m in size] == part[2:], 'one unit is one mm', top.get('width'), top.get('viewBox'))
    read = json.loads(subprocess.run([cli, 'connector', path, '--bend', '100', '--json'], check=True, capture_output=True, text=True).stdout)
    check(abs(read['roof_radius_mm'] - radius) < 0.006, 'read back, the roof has the radius that the window says:', read['roof_radius_mm'], radius)


def steps(j):
    xdo('key', 'd', 'key', 'ctrl+h')
    names = look('five steps', lambda: (found := [a.name for a in j.window.shown() if a.getRoleName() == 'list item' and
                                                  'MPa (' in (a.name or '')]) and len(found) >= 5 and found)
    print('#', *names[::-1], sep='\n#   ')
    picture('12-steps')
    xdo('key', 'Escape')


def use(program, cli, root, folder):
    import pyatspi
    demo = os.path.join(folder, 'QB-02.xml')
    with open(os.path.join(root, 'data', 'demo', 'QB-02.xml'), encoding='utf-8') as f, open(demo, 'w', encoding='utf-8') as to:
        to.write(f.read())
    process = start(program, demo)
    try:
        j = Journey(program, Window(pyatspi, process))
        look('the case', lambda: j.window.named('^QB-02'))
        look('some drawing', lambda: any(re.search(r'\d MPa', a.name or '') for a in j.window.shown()))
        while not j.drawing():
            xdo('key', 'Prior')
            look('the neck', j.drawing)
        look('an answer', j.peak)
        px, percent = photo(j, folder)
        trace(j, px, percent)

        pin(j)
        mend(j)
        best(j)
        difference(j)
        export(j, cli, folder)
        steps(j)
    finally:
        stop(process)


if __name__ == '__main__':
    if sys.argv[1] == 'inside':
        with tempfile.TemporaryDirectory() as place:
            use(*sys.argv[2:5], place)
    else:
        sys.exit(outside(__file__, *sys.argv[1:4]))
