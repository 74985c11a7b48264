#!/usr/bin/env python3
# test_practice_ways.py - exercises of the school bench from the start to the score by one way alone: three by the pen, which touches
# the screen and nothing else; one redrawn by keys (two more kinds by keys: test_practice.py).
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_practice_ways.py SOFFIT SOURCE_ROOT pen|keys.  Left out (77) without the tools that person.py names.
import os
import re
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import Window, check, extents, look, outside, picture, quits, start, stop, xdo
from test_practice import bare, crossed, draw, step


# ---- the pen ----

def touch(window, pattern, done, lower=0):
    """In the middle of what is named so, once it lies inside of the window and stays there, until it is done; lower: px below it.  What
    the hand did last may still move it, in the next frame: where a touch does nothing, the hand looks and touches again."""
    seen, tried = [], []

    def reached():
        box = extents(window.named(pattern))
        seen.append((box.x, box.y, box.width))
        return box.width > 0 and box.y >= -2 and len(seen) > 2 and len(set(seen[-3:])) == 1 and box  # the head's buttons reach above it

    def there():
        try:
            return done()
        except Exception:  # what is asked for is not there yet, or goes while it is read
            return False

    def touched():
        if tried and there():
            return True
        box = reached()
        if not box:
            return False
        tried.append(True)
        xdo('mousemove', box.x + box.width // 2, box.y + box.height // 2 + lower, 'click', 1)
        end = time.monotonic() + 3
        while time.monotonic() < end and not there():
            time.sleep(0.1)
        return there()
    look(pattern + ' touched', touched)


def pen_choose(window, exercise):
    """From the list, which tells places of its own and not where it lies in the window: the hand tries lower until it has the row."""
    for lower in range(0, 200, 14):
        before = window.named('^Exercise .*Choose another').name
        touch(window, '^Exercise .*Choose another', lambda: extents(window.named('^1[.]1  .*passed')).width > 0 and len(window.find_ids()) > 1)
        touch(window, '^' + re.escape(exercise) + '  .*passed',
              lambda: window.named('^Exercise .*Choose another').name != before or len(window.find_ids()) == 1, lower)
        if window.named('^Exercise %s  ' % re.escape(exercise)):
            look('its drawing', lambda: bare(window))
            return
    sys.exit('not ok: the list does not come to ' + exercise)


def pen_cross(window, down):
    """In the middle, this share of the height down."""
    at = extents(look('the drawing', lambda: bare(window)))
    crossed(window, 'mousemove', at.x + at.width // 2, at.y + int(at.height * down), 'click', 1)


def pen_guess(window):
    def guessed():
        if window.named(r'^Your guess: \+[0-9]+ %$'):
            return True
        box = extents(window.named('^How much more will your outline carry, percent$'))
        xdo('mousemove', box.x + box.width // 3, box.y + 12, 'click', 1)
        return False
    look('the guess', guessed)


def pen_answer(window, pattern):
    touch(window, pattern, lambda: window.named(pattern).getState().contains(window.atspi.STATE_CHECKED))


def pen_see(window):
    touch(window, '^Show the pull$', lambda: step(window, 'See'))


def pen_hand_in(window):
    look('that it can be handed in', lambda: window.named('^Hand in$').getState().contains(window.atspi.STATE_SENSITIVE))
    touch(window, '^Hand in$', lambda: step(window, 'Compare'))


def pen_reshape(window):
    pen_cross(window, 0.62)
    pen_guess(window)
    pen_see(window)
    look('the drawing', lambda: window.named('^Drawing of connector 34/35: '))
    draw(window, 2.4)
    look('all criteria', lambda: window.named('^5 of 5: passed$'))
    pen_hand_in(window)
    check(look('its score', lambda: window.named('^5 of 5: passed$') and window.named(r'^Your peak is [0-9]+ MPa')), 'by pen: 1.1 is redrawn and scored')
    picture('ways-pen-1')


def pen_crack(window):
    pen_choose(window, '1.5')
    pen_cross(window, 0.62)
    pen_answer(window, '^the gum side$|^gum side$')
    pen_see(window)
    pen_hand_in(window)
    check(look('its score', lambda: window.named('^[0-9] of 2: ')) and window.named('hot spot'), 'by pen: 1.5 is marked and scored')
    picture('ways-pen-2')


def pen_weakest(window):
    pen_choose(window, '2.2')
    pen_cross(window, 0.62)
    pen_answer(window, '^Which neck breaks first[?] ')
    pen_guess(window)
    pen_see(window)
    pen_hand_in(window)
    check(look('its score', lambda: window.named('^[0-9] of [0-9]: ')), 'by pen: 2.2 is predicted and scored')
    picture('ways-pen-3')


# ---- keys ----

def keys_reshape(window):
    """The V becomes a U by its knots: the roof goes down, its radius is typed."""
    window.tab_to('^Drawing of .* without its answer')
    crossed(window, 'key', 'Down')
    window.tab_to('^How much more will your outline carry, percent$')
    xdo('key', 'Page_Up', 'Page_Up')
    look('the guess', lambda: window.named(r'^Your guess: \+[0-9]+ %$'))
    window.tab_to('^Show the pull$')
    xdo('key', 'space')
    look('step See', lambda: step(window, 'See'))
    canvas = look('the drawing', lambda: window.named('^Drawing of connector 34/35: '))
    before = int(re.search(r'(\d+) MPa', canvas.name)[1])
    window.tab_to('^Drawing of connector 34/35: ')
    xdo('key', 'e')
    look('the size of the roof', lambda: window.focused().name == 'Roof radius')
    xdo('key', 'ctrl+a')
    xdo('type', '0.80')
    xdo('key', 'Return')
    look('step Redraw', lambda: step(window, 'Redraw'))
    xdo('key', 'Escape')
    look('all criteria', lambda: window.named('^5 of 5: passed$'))
    window.tab_to('^Hand in$')
    xdo('key', 'space')
    look('step Compare', lambda: step(window, 'Compare'))
    told = look('its score', lambda: window.named(r'^Your peak is [0-9]+ MPa'))
    after = int(re.search(r'([0-9]+) MPa', told.name)[1])
    check(after < 0.8 * before and window.named('^5 of 5: passed$'), 'by keys: 1.1 is redrawn and scored:', before, '->', after, 'MPa')
    picture('ways-keys')


def inside(program, _root, way):
    import pyatspi
    process = start(program)
    try:
        window = Window(pyatspi, process)
        if way == 'keys':
            xdo('key', 'alt+3')
        else:
            touch(window, '^Practice$', lambda: bare(window))
        look('the school bench', lambda: bare(window))
        for play in (keys_reshape,) if way == 'keys' else (pen_reshape, pen_crack, pen_weakest):
            play(window)
        quits(process)
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(*sys.argv[2:]) if sys.argv[1] == 'inside' else outside(os.path.abspath(__file__), *sys.argv[1:]))
