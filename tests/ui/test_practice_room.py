#!/usr/bin/env python3
# test_practice_room.py - the school bench in German, whose words are long: in a small, a usual and a large window the bar lies beside
# the bridge, none of it below the fold; before and after have a bar each; mine and the best are drawn alike.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_practice_room.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
import os
import re
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import person
from person import Window, check, extents, german, look, outside, picture, said, start, stop, xdo

person.LOCALE = 'de_DE.UTF-8'
person.WINDOW = (2560, 1440)  # the screen; the window is made smaller
SIZES = ((1100, 700), (1440, 900), (2560, 1440))
BAR_LEAST = 90  # px: our own rule
HEAD = 100      # px: above it lie the workspaces and the steps


def below(box):
    return box.y + box.height


def main(program, _root):
    import pyatspi
    with tempfile.TemporaryDirectory() as place:
        german(place)
        process = start(program)
        try:
            bench(Window(pyatspi, process), program)
        finally:
            stop(process)
    return 0


def bench(window, program):
    def word(msgid, whole=True):
        return said(program, msgid, whole)

    def found(msgid):
        return look(msgid, lambda: window.named(word(msgid)))

    def sized(width, height, button):
        """The window of this size, once its last button stays where it is."""
        seen = []

        def still():
            end = extents(window.named(word(button)))
            seen.append((end.x, end.y, end.width, end.height))
            return 0.9 * width < end.x + end.width <= width and below(end) <= height and len(seen) > 3 and len(set(seen[-4:])) == 1
        xdo('windowsize', window.id, width, height)
        look('the window %d wide' % width, still)

    def above_fold(msgid, fold):
        box = extents(found(msgid))
        check(box.height > 0 and HEAD < box.y and below(box) <= fold, found(msgid).name + ' lies above the buttons:', box.y, below(box), fold)
        return box

    def swiping():
        state = found('Before and after  S').getState()
        return any(state.contains(on) for on in (window.atspi.STATE_PRESSED, window.atspi.STATE_CHECKED))

    def bare():
        return window.named('^' + word('Drawing of %s without its answer. Mark where it will be pulled most.', False))

    def cross():
        there = re.search('[0-9]', bare().description or '')
        if not there:
            xdo('mousemove', box.x + box.width // 2, box.y + box.height // 2 + 60, 'click', 1)
        return there

    xdo('key', 'alt+3')
    look('the school bench', bare)
    sized(*SIZES[0], 'Hint %zu of %zu')
    box = extents(bare())
    look('the cross', cross)
    window.tab_to(word('How much more will your outline carry, percent'))
    xdo('key', 'Page_Up', 'Page_Up')
    found('Your guess: +%s %%')
    window.tab_to(word('Show the pull'))
    xdo('key', 'space')
    found('%s: %s times (± %s %%)')
    for width, height in SIZES:
        sized(width, height, 'Hand in')
        fold = extents(found('Hint %zu of %zu')).y
        bar = above_fold('Test bar with the notch of your connector. %s', fold)
        check(bar.height >= BAR_LEAST, '%d × %d: the bar has' % (width, height), bar.width, 'by', bar.height)
        for who in ('The bar', 'Your connector'):
            words = extents(look(who, lambda: window.named('^%s: [0-9]' % word(who, False))))
            check(below(words) <= fold, 'its figures lie above the buttons, too:', below(words), fold)
        picture('practice-room-see-%d' % width)
    sized(*SIZES[0], 'Hand in')
    window.tab_to(word('Hand in'))
    xdo('key', 'space')
    for width, height in SIZES:
        found('Next exercise  N')
        sized(width, height, 'Next exercise  N')
        mine, best = (extents(look(msgid, lambda: window.named('^' + word(msgid, False) + ': '))) for msgid in ('Mine, attempt %u', 'Best in this room'))
        check((mine.y, mine.height) == (best.y, best.height) and abs(mine.width - best.width) <= 2 and mine.height > height / 4,
              '%d × %d: both drawings are alike:' % (width, height), mine.width, 'by', mine.height)
        picture('practice-room-compare-%d' % width)
        xdo('key', 's')
        look('before and after', swiping)
        fold = extents(found('Before and after  S')).y
        was, now = (above_fold(msgid, fold) for msgid in (
            'Test bar with the notch of the start. %s', 'Test bar with the notch of your connector. %s'))
        check((was.x, was.width, was.height) == (now.x, now.width, now.height) and below(was) < now.y, 'the start stands above mine, of one size')
        picture('practice-room-swipe-%d' % width)
        xdo('key', 's')
        look('both drawings again', lambda: not swiping())


if __name__ == '__main__':
    if len(sys.argv) > 1 and sys.argv[1] == 'inside':
        sys.exit(main(*sys.argv[2:4]))
    sys.exit(outside(os.path.abspath(__file__), *sys.argv[1:]))
