#!/usr/bin/env python3
# test_review_room.py - the Review workspace in German, whose words are long: in a small, a usual and a large window everything lies
# inside of it, nothing over something else, and the drawing gets its share.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_review_room.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
# The shares are our own rule: at 1100 px the drawing is the widest of the three columns, and no narrower in a larger window.
import os
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import person
from person import PATIENCE_S, Window, check, extents, german, look, outside, picture, press, said, start, stop, xdo

person.LOCALE = 'de_DE.UTF-8'
person.WINDOW = (2560, 1440)  # the screen; the window is made smaller
CASES = 8
SIZES = ((1100, 700, 400, 250), (1440, 900, 520, 340), (2560, 1440, 1400, 700))  # window; least width and height of the drawing


def over(a, b):
    return a.x < b.x + b.width and b.x < a.x + a.width and a.y < b.y + b.height and b.y < a.y + a.height


def inside(box, width, height):  # the buttons of the head reach 1 px above it
    return box.x >= 0 and box.y >= -1 and box.x + box.width <= width and box.y + box.height <= height


def settled(window, drawing, least):
    """The place of the drawing, once it stays where it is."""
    seen = []

    def still():
        seen.append(tuple(getattr(extents(drawing), key) for key in ('x', 'y', 'width', 'height')))
        return len(seen) > 3 and len(set(seen[-4:])) == 1 and seen[-1][2] >= least and extents(drawing)
    return look('the drawing at least %d wide; is %s' % (least, seen[-1:]), still)


def limits(window, program):
    """The dialog is as high as its words: its buttons follow them."""
    def word(msgid):
        return said(program, msgid)
    press(look('the button', lambda: window.named(word('Limits…'))))
    window.dialog('Grenzen dieses Labors')
    words = extents(look('the words', lambda: window.named(word(
        'They count from now on. Decisions keep those that they were taken by; who set them, and when, stays in the lab’s folder.'))))
    button = extents(window.named(word('Set from now on')))
    room = button.y - words.y - words.height
    picture('room-limits')
    check(0 < room < 50 and words.width > 200, 'between the words of the limits and the buttons there is no empty room:', room)
    xdo('key', 'Escape')
    window.dialog_gone('Grenzen dieses Labors')


def main(program, root):
    import pyatspi
    with tempfile.TemporaryDirectory() as place:
        german(place)
        folder = os.path.join(place, 'Nordlabor')
        subprocess.run([sys.executable, os.path.join(root, 'tests', 'made_cases.py'), folder, str(CASES), '3'], check=True, timeout=PATIENCE_S)
        process = start(program, folder)
        try:
            window = Window(pyatspi, process)
            look('all cases judged', lambda: window.named(': %d Fälle$' % CASES))
            xdo('key', 'Home')
            drawing = look('the drawing', lambda: window.named(said(program, 'Connector %s at the order’s load: %s MPa (%s) at the hot spot')))
            rows = look('the list', lambda: window.named(said(program, 'Cases of the lab')))
            roles = (pyatspi.ROLE_PUSH_BUTTON, pyatspi.ROLE_TOGGLE_BUTTON, pyatspi.ROLE_TEXT)  # their names are words of the language
            for width, height, least, low in SIZES:
                xdo('windowsize', window.id, width, height)
                box = settled(window, drawing, least)
                picture('room-%d' % width)
                check(box.height >= low and inside(box, width, height), '%d × %d: the drawing has' % (width, height), box.width, 'by', box.height)
                buttons = [a for a in window.shown() if a.getRole() in roles and a.name
                           and extents(a).width > 0]
                check(len(buttons) > 15, 'buttons and fields are looked at:', len(buttons))
                out = [a.name for a in buttons if not inside(extents(a), width, height)]
                check(not out, 'all of them lie inside of the window', *out)
                covered = [a.name for a in buttons if a.parent != drawing and over(extents(a), box)]
                check(not covered and not over(extents(rows), box), 'none lies over the drawing', *covered)
            limits(window, program)
        finally:
            stop(process)
    return 0


if __name__ == '__main__':
    if len(sys.argv) > 1 and sys.argv[1] == 'inside':
        sys.exit(main(*sys.argv[2:4]))
    sys.exit(outside(os.path.abspath(__file__), *sys.argv[1:]))
