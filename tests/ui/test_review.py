#!/usr/bin/env python3
# test_review.py - the queue of a lab is cleared by the keyboard alone; the files are looked at afterwards by the command line.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_review.py SOFFIT SOFFIT_CLI SOURCE_ROOT [CASES].  Left out (77) without the tools that person.py names.
import hashlib
import json
import os
import re
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import made_photo
import person
from person import PATIENCE_S, Window, check, extents, look, nameless, outside, picture, start, stop, xdo

MANY = 100
CASES = 24  # some ten of them wait; the same with hundreds, by the last argument


def lab_make(root, cli, folder, cases):
    made = os.path.join(root, 'tests', 'made_cases.py')
    keep = [] if cases >= MANY else ['--cli', cli]  # without it no pass stands: three of four cases wait
    subprocess.run([sys.executable, made, folder, str(cases), '7', *keep], check=True, timeout=PATIENCE_S)
    with open(os.path.join(folder, 'half.xml'), 'w') as half:  # cut off: shown in its row, the others go on
        half.write('<case xmlns="https://soffit.invalid/case" version="1" number="HALF')


class Desk:
    """The few things that are looked at over and over, found once."""

    def __init__(self, window):
        self.title = look('how many wait', lambda: window.named(r'^\d+ waits?'))
        self.drawing = look('the drawing', lambda: window.named('at the order’s load: '))
        self.hint = look('the hint', lambda: window.named('^Pass asks for a written reason|^Write '))

    def waiting(self):
        found = re.match(r'(\d+) wait', self.title.name)
        return int(found[1]) if found else 0

    def shown(self):
        return 'at the order’s load: ' in self.drawing.name


def decided(desk, before):
    return look('the case is gone from the queue', lambda: desk.waiting() < before)


def pass_or_reason(desk, before):
    """A pass; where stops stand the words are asked for."""
    xdo('key', 'p')
    look('passed, or asked why', lambda: desk.waiting() < before or desk.hint.name.startswith('Write why'))
    if desk.waiting() == before:
        xdo('type', '--delay', 5, 'seen by eye')
        xdo('key', 'ctrl+Return')


def back_with_remark(desk, window):
    """A pin at the hot spot, one step along the line, its words, and back with it."""
    xdo('key', 'n')
    look('the pin', lambda: desk.drawing.name.startswith('Pin at'))
    xdo('key', 'Right', 'Return')
    look('the field', lambda: window.focused() and window.focused().name == 'Words of the remark')
    xdo('type', '--delay', 5, 'rounder here')
    xdo('key', 'Return')
    look('the drawing again', desk.shown)
    xdo('key', 'r')


MOVES = r'^Remark (\d+) moves: at x (−?[\d.]+), y (−?[\d.]+) mm on connector'


def moved(window, desk):
    """A pin is moved before it is sent: by keys, back by Escape, by the pointer; and taken away again."""
    def place():
        found = re.match(MOVES, desk.drawing.name)
        return found and tuple(float(n.replace('−', '-')) for n in found.groups()[1:])

    def close(a, b):
        return all(abs(p - q) < 0.0151 for p, q in zip(a, b))  # two decimals are told
    xdo('key', 'n')
    look('the pin', lambda: desk.drawing.name.startswith('Pin at'))
    xdo('key', 'Return')
    look('the field', lambda: window.focused() and window.focused().name == 'Words of the remark')
    xdo('type', '--delay', 5, 'to be moved')
    xdo('key', 'Return')
    look('the drawing again', desk.shown)
    xdo('key', 'm')
    x, y = look('it is in the hand', place)
    xdo('key', 'Left', 'Left', 'shift+Left', 'Up', 'Up')
    check(look('it moved', lambda: (p := place()) and close(p, (x - 0.22, y + 0.2))), 'M and the arrows move a remark, and it is told where it is', x, y)
    picture('review-moved')
    xdo('key', 'Escape')
    look('it is where it was', desk.shown)
    xdo('key', 'm')
    check(look('its place', lambda: (p := place()) and close(p, (x, y))), 'Escape leaves it where it was')
    xdo('key', 'Right', 'Return')
    look('kept', desk.shown)
    xdo('key', 'm')
    check(look('its place', lambda: (p := place()) and close(p, (x + 0.1, y))), 'Enter keeps its new place')
    xdo('key', 'Escape')
    look('the drawing', desk.shown)
    box = extents(desk.drawing)  # where its drop hangs is found by dragging: every place on the way down from the middle
    ids = [(box.x + box.width // 2 + dx, box.y + dy) for dy in range(box.height // 3, box.height - 20, 14) for dx in (-60, -24, 0, 24, 60)]

    def drag(px, py):
        xdo('mousemove', px, py, 'mousedown', 1, 'mousemove', px + 20, py + 2, 'mousemove', px + 40, py + 5)
        time.sleep(0.05)
        window.listen()
        held = place()
        xdo('mouseup', 1)
        return held
    held = next(filter(None, (drag(*at) for at in ids)), None)
    check(held and held[0] > x + 0.1, 'dragging moves it too', held)
    look('let go', desk.shown)
    xdo('key', 'm')
    check(look('its place', lambda: (p := place()) and close(p, held)), 'it stays where it was let go')
    xdo('key', 'Escape')
    stops = ['^What fired: ', '^Neck ', '^Of the margin ', '^History: ', '^Remark 1  .*to be moved. Press to take it away$',
             '^Closing words of the decision$', '^Return', '^Pass', '^Wait']  # in this order, one Tab after the other
    for stop_at in stops:
        window.tab_to(stop_at, most=8)
    check(True, 'Tab goes through the evidence to the decisions')
    xdo('key', 'F6')
    check(look('the queue', lambda: window.focused() and window.focused().name == 'Show cases with these words'), 'F6 goes on to the next part, around')
    xdo('key', 'Escape')
    look('the list', lambda: window.focused() and window.focused().getRoleName() == 'list item')
    window.tab_to('^Figures…$', most=2)
    xdo('key', 'F6', 'F6', 'F6', 'F6')
    window.tab_to(stops[4], most=12)
    xdo('key', 'space')
    look('gone', lambda: not window.named('to be moved'))
    xdo('key', 'Escape')


def clear_queue(window, desk):
    first = todo = desk.waiting()
    begin = time.monotonic()
    remarks = 0
    while todo > 1:  # the half copied file stays: nobody can decide on it
        look('the evidence', desk.shown)
        if remarks < 3 or (first - todo) % 10 == 9:
            remarks += 1
            back_with_remark(desk, window)
        else:
            pass_or_reason(desk, todo)
        decided(desk, todo)
        todo = desk.waiting()
    return first - 1, remarks, time.monotonic() - begin


def record_of(cli, path):
    done = subprocess.run([cli, 'record', '--json', path], capture_output=True, text=True, timeout=PATIENCE_S)
    return [json.loads(line) for line in done.stdout.splitlines()]


def words(window, text):
    xdo('key', 'ctrl+f', 'ctrl+a')
    xdo('type', '--delay', 10, text)
    xdo('key', 'Return')


def broken(window, folder, name):
    """Somebody changes a reason in the file itself: its row tells."""
    path = os.path.join(folder, name)
    text = open(path).read()
    check('seen by eye' in text, 'the reason is in the file')
    with open(path, 'w') as file:
        file.write(text.replace('seen by eye', 'seen by ear'))
    window.tab_to('^waiting only$', key='ISO_Left_Tab')
    xdo('key', 'space')
    words(window, name[:-4])
    row = look('the row of the changed file', lambda: window.named('^%s, .*The history was changed from outside' % name[:-4]))
    check(row, 'a changed history is told in its row')


def photo_lines(folder):
    """Into the worst of the lab: a photo, and one whose end is missing."""
    name = min(f for f in os.listdir(folder) if f.startswith('MC-'))
    path = os.path.join(folder, name)
    os.mkdir(os.path.join(folder, 'photos'))
    text = open(path, encoding='utf-8').read()
    for i, data in enumerate((made_photo.png(), made_photo.png()[:4000])):
        with open(os.path.join(folder, 'photos', '%d.png' % i), 'wb') as photo:
            photo.write(data)
        line = '<photo file="photos/%d.png" sha256="%s" width="%d" height="%d" x="0" y="4" zoom="0.0166"/>' % (
            i, hashlib.sha256(data).hexdigest(), made_photo.WIDTH, made_photo.HEIGHT)
        text = text.replace('    </connector>', '      %s\n    </CONNECTOR>' % line, 1)
    with open(path, 'w', encoding='utf-8') as file:
        file.write(text.replace('CONNECTOR', 'connector'))
    return name[:-4]


def photos_seen(window, number):
    """Small beside the evidence; Enter opens one large, Escape closes it; a broken one says so."""
    xdo('key', 'ctrl+f')
    look('the field', lambda: window.focused() and window.focused().name == 'Show cases with these words')
    xdo('type', '--delay', 10, number)
    xdo('key', 'Return')
    look('the photo', lambda: window.named(r'^Photo of \d\d/\d\d\. Press to see it large$'))
    check(look('the broken one', lambda: window.named(r'^Photo of \d\d/\d\d: photos/1.png: .*end is missing')),
          'a broken photo says so in its place')
    window.tab_to(r'^Photo of \d\d/\d\d\. Press')
    picture('review-photos')
    xdo('key', 'Return')
    title = look('the large one', lambda: next((w.name for w in window.app if re.search(r'^Photo of \d\d/\d\d, 1 of 2$', w.name or '')), None))
    window.dialog(title)
    picture('review-photo-large')
    xdo('key', 'Escape')
    window.dialog_gone(title)
    check(True, 'a photo opens large and closes by Escape')
    xdo('key', 'ctrl+f', 'ctrl+a', 'Delete', 'Return')


def queue_put_away(window, desk):
    """F9 gives its room to the evidence, the keys of the review go on."""
    xdo('key', 'F9')
    look('the queue is gone', lambda: not window.named('^Cases of the lab$'))
    before = desk.drawing.name
    xdo('key', 'j')
    check(look('the next case', lambda: desk.shown() and desk.drawing.name != before), 'F9 puts the queue away, J still goes on')
    picture('review-folded')
    xdo('key', 'k', 'F9')
    look('the queue again', lambda: window.named('^Cases of the lab$'))


def main(program, cli, root, cases):
    import pyatspi
    person.PATIENCE_S = PATIENCE_S + cases  # many are judged longer
    with tempfile.TemporaryDirectory() as folder:
        lab_make(root, cli, folder, cases)
        photographed = photo_lines(folder)
        process = start(program, folder)
        try:
            window = Window(pyatspi, process)
            look('all cases judged', lambda: window.named(r': %d cases$' % (cases + 1)))
            xdo('key', 'Home', 'j')  # below the half copied file, which is the worst
            desk = Desk(window)
            check(look('the half copied file', lambda: window.named('^HALF|^half.xml, ')), 'a file cut off stands in the queue')
            found = look('the names', lambda: [nameless(window)])[0]  # rows come and go while it looks
            check(not found, 'everything that takes the focus has a name', *found)
            picture('review')
            photos_seen(window, photographed)
            xdo('key', 'Home', 'j')
            look('the evidence', desk.shown)
            queue_put_away(window, desk)
            moved(window, desk)
            xdo('key', 'j', 'k')  # there and back
            n, remarks, seconds = clear_queue(window, desk)
            check(True, 'the queue is cleared by keys: %d cases in %.1f s, %.2f s a case' % (n, seconds, seconds / max(n, 1)))
            check(n >= (2 * cases // 3 if cases >= MANY else cases // 4), 'there was something to clear:', n)
            look('everything is written', lambda: window.named('Nothing to decide|^1 waits$'))
            names = [f for f in sorted(os.listdir(folder)) if f.startswith('MC-') and f.endswith('.xml')]
            kept = {name: open(os.path.join(folder, name)).read() for name in names}
            backs = [name for name in names if 'rounder here' in kept[name]]
            passes = [name for name in names if 'kind="pass"' in kept[name] and name not in backs and ' chain="' in kept[name]]
            check(len(backs) == remarks, 'returned with a remark on the sketch:', len(backs))
            check(len(backs) + len(passes) == n, 'every decision is in its file:', len(passes), 'passed')
            for name in backs[:2] + passes[:3]:
                lines = record_of(cli, os.path.join(folder, name))
                decision = [line for line in lines if line.get('kind') in ('pass', 'return')][-1:]
                check(decision and decision[0]['chain_state'] == 'fits' and decision[0]['content'],
                      name, 'the decision hangs in a whole chain, by the command line')
            reasoned = next(name for name in passes if 'seen by eye' in kept[name])
            broken(window, folder, reasoned)
        finally:
            stop(process)
    return 0


if __name__ == '__main__':
    if len(sys.argv) > 1 and sys.argv[1] == 'inside':
        sys.exit(main(*sys.argv[2:5], int(sys.argv[5]) if len(sys.argv) > 5 else CASES))
    sys.exit(outside(os.path.abspath(__file__), *sys.argv[1:]))
