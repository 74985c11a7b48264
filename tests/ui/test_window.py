#!/usr/bin/env python3
# test_window.py - the window as a person uses it: choose a neck, pull the V into a U, undo, keys, names, quit.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_window.py SOFFIT.  Left out (77) without the tools that person.py names.
import hashlib
import os
import re
import struct
import subprocess
import sys
import tempfile
import zlib

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import PATIENCE_S, Window, check, drawing_of, extents, look, nameless, outside, peak_of, press, start, stop, tap, xdo

# The stroke on the drawing of 35/36: parts of the drawing's width and height, from foot to foot over a round roof.
FOOT, SPRING, TOP, HALF = 0.850, 0.745, 0.580, 0.085
MIDDLE = 0.5


def stroke(drawing):
    import math
    box = extents(drawing)

    def px(x, y):
        return round(box.x + x * box.width), round(box.y + y * box.height)
    arch = [(MIDDLE - HALF * math.cos(math.pi * i / 24), SPRING - (SPRING - TOP) * math.sin(math.pi * i / 24))
            for i in range(25)]
    points = [px(MIDDLE - 1.2 * HALF, FOOT), *(px(*p) for p in arch), px(MIDDLE + 1.2 * HALF, FOOT)]
    xdo('mousemove', *points[0], 'mousedown', 1)
    for point in points[1:]:
        xdo('mousemove', *point)
    xdo('mouseup', 1)


def warm_middle(window):
    """Where across the strip the stretched zones lie, px: the middle of what is redder than paper, above the gum line."""
    box = extents(window.named('^Trial load along the biting edge'))
    wide, high = int(box.width), int(box.height) // 2
    data = subprocess.run(['import', '-window', window.id, '-crop', '%dx%d+%d+%d' % (wide, high, box.x, box.y), '-depth', '8',
                           'rgb:-'], check=True, timeout=PATIENCE_S, stdout=subprocess.PIPE).stdout
    if len(data) != 3 * wide * high:
        return None  # not on the screen as a whole yet
    total = moment = 0
    for y in range(0, high, 2):
        for x in range(0, wide, 2):
            at = 3 * (y * wide + x)
            warm = max(0, data[at] - data[at + 2] - 60)
            total, moment = total + warm, moment + warm * x
    return moment / total if total > 200 else None


def load_place(window):
    strip = window.named('^Trial load along the biting edge')
    return strip and float(re.search(r' N at ([\d.]+) mm', strip.name)[1])


def bridge_follows(window):
    """The zones of the whole bridge go where the load goes."""
    place = look('the place of the load', lambda: load_place(window))
    middle = look('stretched zones in the strip', lambda: warm_middle(window))
    for _ in range(22):
        xdo('key', 'ctrl+Right')
    look('the load moved', lambda: load_place(window) > place + 10)
    moved = look('the zones moved', lambda: (m := warm_middle(window)) and m > middle + 40 and m)
    print('# load %.1f -> %.1f mm, stretched at %.0f -> %.0f px' % (place, load_place(window), middle, moved))
    xdo('key', 'ctrl+z')
    look('the load back', lambda: abs(load_place(window) - place) < 0.2)
    back = look('the zones back', lambda: (m := warm_middle(window)) and abs(m - middle) < 15 and m)
    check(back < moved, 'the whole bridge follows the load:', middle, moved, back)


# Thirty invented bars, N, as a newcomer types them: milled only, then polished.
MILLED = (1092, 1267, 1296, 1330, 1349, 1394, 1445, 1469, 1522, 1586, 1601, 1606, 1622, 1644, 1774)
POLISHED = (1814, 2002, 2071, 2167, 2213, 2266, 2304, 2350, 2359, 2414, 2446, 2525, 2546, 2582, 2674)


def carried(window):
    """What the connector in view carries, as its head says it."""
    return next((a.name for a in window.shown() if re.search(r'\d N', a.name or '') and a.getRoleName() == 'status bar'), None)


def write(accessible, text):
    accessible.queryEditableText().setTextContents(text)


def lines_type(numbers):
    for number in numbers:
        xdo('type', '--delay', '2', str(number))
        xdo('key', 'Return')


def bars_typed(window):
    """By keys alone: thirty bars in two sets."""
    xdo('key', 'alt+4')
    first = look('the lines of the first set', lambda: next(
        (a for a in window.shown() if a.getState().contains(window.atspi.STATE_FOCUSED) and 'one line each' in (a.name or '')), None))
    check(first, 'the focus is where bars are typed')
    lines_type(MILLED)
    look('fifteen bars', lambda: window.named('^15 bars$'))
    xdo('key', 'Tab', 'key', 'Tab', 'key', 'Tab', 'key', 'Tab')  # name, finish, open, lines of the second set
    lines_type(POLISHED)
    look('as many again', lambda: sum(a.name == '15 bars' for a in window.shown()) == 2)
    check(look('the gain', lambda: window.named(r'^\+57 %$')), 'what polishing gained is seen')
    check(look('its band', lambda: window.named(r'^\d+ to \d+ % \(90 in 100\)$')), 'with its band')
    check(look('the book', lambda: window.named(r'^In your test: 63 of 100 broken at 850 \(\d+–\d+\) MPa, m 10\.0 \(')),
          'the book stands beside it')
    check(not (found := nameless(window)), 'everything that takes the focus has a name among the bars', *found)


def gain_used(window, before):
    """The gain as an own finish factor: seen in the verdict, in its sources, removed, undone."""
    press(look('the step', lambda: window.named('^Use this gain$')))
    look('it is in use', lambda: window.named('^In use: see'))
    check(window.named('^high gloss: × 1\\.57 \\(.*of milled only\\nown bars, .*15 and 15 bars$'), 'the factor names its bars')
    xdo('key', 'alt+1')
    check(look('another verdict', lambda: (now := carried(window)) and now != before and now),
          'the gain changes what the connector carries')
    press(look('the margin', lambda: window.named('^Margin')))
    check(look('its source', lambda: window.named('Finish there, .*own bars, .*15 and 15 bars')), 'the margin names it as a source')
    xdo('key', 'Escape')
    xdo('key', 'alt+4')
    press(look('the way back', lambda: window.named('^Remove the factor of high gloss$')))
    look('it is gone', lambda: window.named('^Comes before the factor of the book'))
    xdo('key', 'alt+1')
    check(look('the old verdict', lambda: carried(window) == before), 'removed, the book counts again')
    xdo('key', 'ctrl+z')
    look('the factor again', lambda: (now := carried(window)) and now != before)
    xdo('key', 'ctrl+z')
    check(look('the first verdict', lambda: carried(window) == before), 'both steps can be undone')


def card_made(window, before):
    """The polished set onto the case's card and among the lab's: lot and initials are asked for."""
    xdo('key', 'alt+4')
    lot, who = (look(name, lambda: window.named('^%s$' % name) and next(
        a for a in window.shown() if a.name == name and a.getRoleName() == 'text')) for name in ('Lot', 'Entered by'))
    write(lot, '')
    press(look('to the lab', lambda: window.named('^To the lab’s cards$')))
    check(look('a refusal', lambda: window.named('^Own bars come from a lot')), 'without a lot there is no card')
    write(lot, '0417')
    write(who, 'AB')
    press(window.named('^To the lab’s cards$'))
    check(look('the card is kept', lambda: window.named('^Among the lab’s cards as “Own bars, ')), 'a set becomes a card of the lab')
    folder = os.path.join(os.environ['XDG_DATA_HOME'], 'soffit', 'cards')
    text = ''.join(open(os.path.join(folder, name), encoding='utf-8').read() for name in os.listdir(folder))
    check('lot="0417" who="AB"' in text and 'bars="15"' in text and 'bar-finish="high-polish"' in text,
          'with lot, initials, number and finish of its bars')
    press(window.named('^To this case$'))
    look('the card taken', lambda: window.named('^The case has these figures now'))
    xdo('key', 'alt+1')
    check(look('another verdict', lambda: (now := carried(window)) and now != before), 'the card changes what the connector carries')
    xdo('key', 'ctrl+z')
    check(look('the old verdict', lambda: carried(window) == before), 'and undo brings it back')


def bars(window):
    """A newcomer's way: thirty bars, what polishing gained, carried to a card, the verdict changed."""
    before = carried(window)
    bars_typed(window)
    gain_used(window, before)
    card_made(window, before)


def use(window):
    check(look('the answer at rest', lambda: peak_of(window, '35/36')), 'opens at the weakest neck')
    check(window.named('^Bending of the whole bridge as a flat body') is None, 'beam and whole bridge agree within 10 % at 35/36')
    bridge_follows(window)
    xdo('key', 'Next')
    look('the neck to the right', lambda: drawing_of(window, '36/37'))
    doubt = look('where the whole bridge differs', lambda: window.named('^Bending of the whole bridge as a flat body: up to'))
    check(int(re.search(r'up to (\d+) %', doubt.name)[1]) > 10, 'the reading says so', doubt.name)
    xdo('key', 'Prior')
    before = look('the neck chosen again', lambda: peak_of(window, '35/36'))
    stroke(drawing_of(window, '35/36'))
    after = look('a lower peak', lambda: (p := peak_of(window, '35/36')) and p != before and p)
    check(after < 0.75 * before, 'the pen pulls the V into a U:', before, '->', after, 'MPa')
    check(look('the band of the peak', lambda: re.search(r'\d+ MPa \(\d+–\d+\)', drawing_of(window, '35/36').name)),
          'the peak is named with its band')
    check(look('the verdict told', lambda: window.hears('status bar', r'^Rework\. .*\d N')), 'the verdict is announced')
    xdo('key', 'ctrl+z')
    check(look('the V again', lambda: peak_of(window, '35/36') == before), 'Ctrl+Z brings it back')
    check(not (found := nameless(window)), 'everything that takes the focus has a name', *found)
    xdo('key', 'ctrl+e')
    dialog = window.dialog('Edit case')
    pages = look('its pages', lambda: next((a for a in window.shown(dialog) if a.name == 'Connectors'), None))
    check(pages is not None and not (found := nameless(window, dialog)), 'so it has in the case dialog', *found)
    xdo('key', 'Escape')
    window.dialog_gone('Edit case')
    bars(window)
    xdo('key', 'Prior', 'key', 'ctrl+q')  # while the other neck is being solved
    check(window.process.wait(timeout=PATIENCE_S) == 0, 'Ctrl+Q ends it while it computes')


def plain_png(width, height):
    def chunk(kind, data):
        return struct.pack('>I', len(data)) + kind + data + struct.pack('>I', zlib.crc32(kind + data))
    rows = (b'\0' + bytes((90, 110, 130)) * width) * height
    return (b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', width, height, 8, 2, 0, 0, 0)) +
            chunk(b'IDAT', zlib.compress(rows)) + chunk(b'IEND', b''))


def case_with_photo(folder):
    """QB-02 whose neck 35/36 was traced on a photo without scale."""
    png = plain_png(800, 600)
    with open(os.path.join(folder, 'piece.png'), 'wb') as f:
        f.write(png)
    demo = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', '..', 'data', 'demo', 'QB-02.xml')
    with open(demo, encoding='utf-8') as f:
        before, after = f.read().split('<connector between="35-36">')
    end = after.index('</connector>')
    photo = '<photo file="piece.png" sha256="%s" width="800" height="600" y="4" zoom="0.02" traced="yes"/>' % hashlib.sha256(png).hexdigest()
    path = os.path.join(folder, 'QB-02.xml')
    with open(path, 'w', encoding='utf-8') as f:
        f.write(before + '<connector between="35-36">' + after[:end] + photo + after[end:])
    return path


def apart(card, drawing):
    """Both boxes on the screen, once neither lies on the other."""
    a, b = extents(card), extents(drawing)
    return (a, b) if a.x >= b.x + b.width or a.x + a.width <= b.x else None


def photo(window):
    """No verdict on a line traced on a photo without scale; marked and scaled, there is one."""
    look('the answer', lambda: drawing_of(window, '36/37'))
    xdo('key', 'Prior')
    check(look('why there is none', lambda: window.hears('status bar', 'Scale the photo first')), 'without a scale the verdict is held back')
    look('the neck without a scale', lambda: drawing_of(window, '35/36'))
    xdo('key', 'f')
    card, drawing = look('the card beside the drawing', lambda: apart(window.named('^Photo below the drawing$'), drawing_of(window, '35/36')))
    check(drawing.width > card.width and card.height > 200, 'the card of the photo hides nothing of the drawing')
    tap(window, 'Scale')
    press(look('marking', lambda: window.named('^Mark places$')))
    look('marks begin', lambda: window.named('^0 marks'))
    xdo('key', 'Return', *(['key', 'Right'] * 12), 'key', 'Return')
    look('two marks', lambda: window.named('^2 marks'))
    tap(window, 'Distance of neighbouring marks')
    xdo('key', 'ctrl+a')
    xdo('type', '2.00')
    xdo('key', 'Tab')
    check(not (found := nameless(window)), 'everything that takes the focus has a name beside the photo', *found)
    press(window.named('^Set scale$'))
    check(look('the scale', lambda: window.named(r'^1 mm is [\d.]+ px, known to ±')), 'marked by keys, the photo has its scale')
    xdo('key', 'd')
    check(look('a verdict', lambda: re.search(r'\d+ MPa \(\d+–\d+\)', drawing_of(window, '35/36').name)), 'and then there is an answer')


def inside(program):
    import pyatspi
    process = start(program, '--demo')
    try:
        use(Window(pyatspi, process))
        bad = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'cases', 'crossing.xml')
        process = start(program, bad)
        window = Window(pyatspi, process)
        strip = look('the trouble in the strip', lambda: window.named('^Trial load .*45/46: The line crosses itself here'))
        check('The strip shows no stress.' in strip.name, 'a bridge that cannot be shown says where and why', strip.name)
        process.terminate()
        process.wait(timeout=PATIENCE_S)
        with tempfile.TemporaryDirectory() as folder:
            process = start(program, case_with_photo(folder))
            photo(Window(pyatspi, process))
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2]) if sys.argv[1] == 'inside' else outside(__file__, sys.argv[1]))
