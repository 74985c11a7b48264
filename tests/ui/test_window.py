#!/usr/bin/env python3
# test_window.py - the window as a person uses it: choose a neck, pull the V into a U, undo, keys, names, quit.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_window.py SOFFIT.  Left out (77) without the tools that person.py names.
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import PATIENCE_S, Window, check, environment, extents, look, nameless, outside, press, xdo

# The stroke on the drawing of 35/36: parts of the drawing's width and height, from foot to foot over a round roof.
FOOT, SPRING, TOP, HALF = 0.850, 0.745, 0.580, 0.085
MIDDLE = 0.5


def drawing_of(window, connector):
    return window.named('^Drawing of connector %s: ' % connector)


def peak_of(window, connector):
    """MPa, once the answer is the one at rest."""
    drawing = drawing_of(window, connector)
    return int(re.search(r'(\d+) MPa', drawing.name)[1]) if drawing and window.named('at rest · ') else None


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


def bars(window):
    """By keys to the bars; two sets of an example; the polished one onto the case's card; its verdict changes; undone."""
    peak = peak_of(window, '35/36')
    carried = next(a.name for a in window.shown() if re.search(r'\d N', a.name or '') and a.getRoleName() == 'status bar')
    xdo('key', 'alt+4')
    press(look('the example', lambda: window.named('^Try an example$')))
    check(look('the gain', lambda: window.named(r'^\+\d+ %$')), 'two sets of bars are compared')
    check(look('its band', lambda: window.named(r'^\d+ to \d+ % \(90 in 100\)$')), 'the gain has its band')
    check(not (found := nameless(window)), 'everything that takes the focus has a name among the bars', *found)
    press(look('the card', lambda: window.named('^Card from “high gloss”$')))
    look('the card taken', lambda: window.named('^The case has these figures now'))
    xdo('key', 'alt+1')
    look('the drawing', lambda: peak_of(window, '35/36') == peak)
    check(look('another verdict', lambda: next((a for a in window.shown() if a.getRoleName() == 'status bar' and
                                                re.search(r'\d N', a.name or '') and a.name != carried), None)),
          'the card changes what the connector carries')
    xdo('key', 'ctrl+z')
    check(look('the old verdict', lambda: next((a for a in window.shown() if a.getRoleName() == 'status bar' and
                                                a.name == carried), None)), 'and undo brings it back')


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


def inside(program):
    import pyatspi
    env = environment()
    process = subprocess.Popen([program, '--demo'], env=env)
    try:
        use(Window(pyatspi, process))
        bad = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'cases', 'crossing.xml')
        process = subprocess.Popen([program, bad], env=env)
        window = Window(pyatspi, process)
        strip = look('the trouble in the strip', lambda: window.named('^Trial load .*45/46: The line crosses itself here'))
        check('The strip shows no stress.' in strip.name, 'a bridge that cannot be shown says where and why', strip.name)
    finally:
        if process.poll() is None:
            process.terminate()
            process.wait(timeout=PATIENCE_S)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2]) if sys.argv[1] == 'inside' else outside(__file__, sys.argv[1]))
