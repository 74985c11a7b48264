#!/usr/bin/env python3
# test_together.py - two people, two programs, one case: who has it, remarks, taking over, both versions kept, merged by parts.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_together.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
import glob
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as tree

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import PATIENCE_S, Window, check, environment, extents, look, nameless, outside, picture, press, stop, xdo

SPACE = '{https://soffit.invalid/case}'


def person(home, name, initials):
    folder = os.path.join(home, initials, 'soffit')
    os.makedirs(folder)
    with open(os.path.join(folder, 'window.ini'), 'w', encoding='utf-8') as f:
        f.write('[window]\nperson-name=%s\nperson-initials=%s\nperson-role=technician\n' % (name, initials))
    return os.path.join(home, initials)


def started(program, case, folder, processes):
    """On a session bus of its own, where it does not meet the first one, but heard on the same bus of AT-SPI."""
    bus = subprocess.run(['gdbus', 'call', '--session', '--dest', 'org.a11y.Bus', '--object-path', '/org/a11y/bus', '--method',
                          'org.a11y.Bus.GetAddress'], capture_output=True, text=True, check=True).stdout
    own = subprocess.Popen(['dbus-daemon', '--session', '--nofork', '--print-address=1'], stdout=subprocess.PIPE, text=True)
    processes.append(own)
    program = subprocess.Popen([program, case], env={**environment(), 'XDG_CONFIG_HOME': folder,
                                                     'AT_SPI_BUS_ADDRESS': re.search(r"'(.*)'", bus)[1],
                                                     'DBUS_SESSION_BUS_ADDRESS': own.stdout.readline().strip()})
    processes.append(program)
    return program


def to_front(window):
    xdo('windowraise', window.id, 'windowfocus', '--sync', window.id)


def title(window, pattern):
    return look('the title ' + pattern, lambda: window.named(pattern))


def both_drawn(window, right, left):
    """Both connectors anew, from these starters."""
    to_front(window)
    to_drawing(window)
    for starter, at in ((right, '46/47'), (left, '45/46')):
        look('the drawing of ' + at, lambda: window.named('^Drawing of connector ' + at))
        xdo('key', starter.lower())
        look('drawn', lambda: window.named('^Undo: Start from a %s$' % starter))
        xdo('key', 'Prior')


def to_drawing(window):
    window.tab_to('^Drawing of connector ', most=60)


def button(window, name):
    press(look('the button ' + name, lambda: next((a for a in window.shown() if a.name == name and
                                                    a.getRoleName() in ('push button', 'button')), None)))


def save(window):
    to_front(window)
    xdo('key', 'ctrl+s')


def read(case):
    return tree.parse(case).getroot()


def line_of(case, between):
    """The gum side of a connector, as the file has it."""
    for connector in read(case).iter(SPACE + 'connector'):
        if connector.get('between') == between:
            return next(sorted(o.attrib.items()) for o in connector.iter(SPACE + 'outline') if o.get('side') == 'gingival')


def remarks(case):
    return [r.text for r in read(case).iter(SPACE + 'remark')]


def remark_of_a_reader(anna, bert, case):
    to_front(bert)
    to_drawing(bert)
    xdo('key', 'ctrl+r', 'Right', 'Up', 'Return')  # a pin, one step to the right and up, its words
    look('the field', lambda: bert.focused() and bert.focused().name == 'Words of the remark')
    xdo('type', '--delay', 20, 'rounder here')
    xdo('key', 'Return')
    look('the pinned remark', lambda: remarks(case) == ['rounder here'])
    pinned = next(read(case).iter(SPACE + 'remark'))
    check(pinned.get('between') and abs(float(pinned.get('x'))) < 5 and float(pinned.get('y')) > 0.5,
          'a reader pins a remark to a place of the drawing:', pinned.get('between'), pinned.get('x'), pinned.get('y'))
    picture('together-pin')
    xdo('key', 'ctrl+r', 'ctrl+r')  # twice: about the bridge, without a place
    dialog = bert.dialog('Add a remark')
    xdo('type', '--delay', 20, 'roof is sharp here')
    bert.tab_to('^Add the remark$', dialog)
    xdo('key', 'space')
    bert.dialog_gone('Add a remark')
    check(look('the remark', lambda: remarks(case) == ['rounder here', 'roof is sharp here']), 'and one about the bridge')
    save(anna)
    title(anna, '^QB-10$')
    check(remarks(case) == ['rounder here', 'roof is sharp here'], 'who has the case saves, and the remark stays')


def seen_by_the_second(anna, bert, case):
    lock = os.path.join(os.path.dirname(case), '.QB-10.xml.lock')
    with open(lock, encoding='utf-8') as f:
        check('name=Anna Ast\n' in f.read(), 'the lock beside the case names who has it')
    bar = look('who has it', lambda: bert.named(r'^Opened by Anna Ast since \d\d:\d\d\. Read only\.$'))
    check(bar and title(bert, '^QB-10 – read only$'), 'the second sees who has the case, and reads')
    picture('together-reading')
    to_front(bert)
    to_drawing(bert)
    xdo('key', 'u', 'ctrl+e')
    dialog = bert.dialog('Edit case')
    bert.tab_to('^Take over$', dialog)
    xdo('key', 'space')
    check(look('refused', lambda: any((a.name or '').startswith('You only read this case.') for a in bert.shown(dialog))),
          'the second changes nothing: told why')
    xdo('key', 'Escape')
    bert.dialog_gone('Edit case')
    check(bert.named('^Undo$'), 'nothing to undo at the second')


def taken_over(anna, bert):
    both_drawn(anna, 'U', 'V')
    to_front(bert)
    button(bert, 'Take over')
    title(bert, '^QB-10$')
    check(look('notice', lambda: anna.named(r'^Bert Bo took this case over at \d\d:\d\d\. Read only\. Your work that is not saved '
                                            r'yet is still here\.$')), 'the first is told that the case was taken over')
    check(title(anna, '^QB-10 – read only •$'), 'what she had not saved is still there')
    to_front(anna)
    picture('together-taken')


def conflict(anna, bert, case):
    both_drawn(bert, 'V', 'U')
    save(bert)
    title(bert, '^QB-10$')
    with open(case, 'rb') as f:
        of_bert = f.read()
    look('told', lambda: anna.named('has saved it since'))
    save(anna)
    told = look('kept beside', lambda: anna.named(r'^Bert Bo took this case over at \d\d:\d\d and has saved it since\. Your work was '
                                                  r'kept beside it: QB-10 \(AA [-\d. ]+\)\.xml\.$'))
    beside = os.path.join(os.path.dirname(case), re.search(r'beside it: (.*)\.$', told.name)[1])
    with open(case, 'rb') as f:
        check(f.read() == of_bert, 'a save that meets another overwrites nothing')
    check(line_of(beside, '45-46') != line_of(case, '45-46'), 'and both are kept')
    save(anna)
    return of_bert, beside


def merged(anna, bert, case, of_bert, beside):
    to_front(anna)
    picture('together-kept')
    button(anna, 'Merge…')
    dialog = anna.dialog('Merge two versions of the case')
    look('the rows', lambda: sum(1 for a in anna.shown(dialog) if ', mine: ' in (a.name or '')) == 2)
    check(sum(1 for a in anna.shown(dialog) if a.name == '⚠ Both changed it: choose.') == 2, 'one row a part that both have changed')
    high = extents(dialog).height
    check(0 < high < 400, 'the dialog is no higher than its two rows need:', high, 'px')
    check(not (found := nameless(anna, dialog, least=6)), 'everything in the dialog has a name', *found)
    sides = [extents(a).width for side in ('mine', 'theirs') for a in anna.shown(dialog) if ', %s: ' % side in (a.name or '')]
    check(len(sides) == 4 and max(sides) - min(sides) <= 8 and min(sides) > 200, 'both sides are as wide, whatever their words:', *sides)
    at = anna.tab_to('^45/46: .*, mine: ', dialog)
    xdo('key', 'space')
    look('mine chosen', lambda: at.getState().contains(anna.atspi.STATE_PRESSED) or at.getState().contains(anna.atspi.STATE_CHECKED))
    picture('together-merge')
    anna.tab_to('^Merge and save$', dialog)
    xdo('key', 'space')
    anna.dialog_gone('Merge two versions of the case')
    title(anna, '^QB-10$')
    with open(os.path.join(os.environ['HOME'], 'bert.xml'), 'wb') as f:
        f.write(of_bert)
    check(line_of(case, '45-46') == line_of(beside, '45-46'), 'merged: the connector chosen from mine is mine')
    check(line_of(case, '46-47') == line_of(f.name, '46-47') != line_of(beside, '46-47'), 'the other one is theirs')
    check(remarks(case) == ['rounder here', 'roof is sharp here'], 'the remarks are still there')
    kinds = [(e.get('kind'), e.get('before') or '') for e in read(case).iter(SPACE + 'entry')]
    check(any(kind == 'merge' and len(before) > 64 for kind, before in kinds), 'the history tells of it, with digests')
    kept = glob.glob(glob.escape(os.path.dirname(case)) + '/QB-10 (BB*')
    check(len(glob.glob(glob.escape(os.path.dirname(case)) + '/QB-10 (AA*')) == 1, 'saved twice without a change: kept once')
    with open(kept[0], 'rb') as f:
        check(len(kept) == 1 and f.read() == of_bert, 'theirs, which gave way in one part, is kept too')
    check(anna.named('^Undo: Merge with what was saved$'), 'one step to undo')
    check(look('told', lambda: bert.named(r'^Anna Ast took this case over at')), 'the second is told in turn')
    check(look('shown', lambda: bert.named('^QB-10 – read only$') and bert.named('^Undo$')),
          'and sees the merged case: nothing of his was unsaved')


def crash(anna, bert, case):
    anna.process.kill()
    anna.process.wait(timeout=PATIENCE_S)
    to_front(bert)
    to_drawing(bert)
    os.utime(os.path.join(os.path.dirname(case), '.QB-10.xml.lock'))  # what moves is looked at before its half minute is over
    look('told of the crash', lambda: bert.named('^Anna Ast has closed this case. You may work on it now.$'))
    button(bert, 'Work on it')
    title(bert, '^QB-10$')
    check(True, 'after a crash of the one the other goes on')
    to_front(bert)
    xdo('key', 'ctrl+q')
    check(bert.process.wait(timeout=PATIENCE_S) == 0, 'and closes')
    check(not os.path.exists(os.path.join(os.path.dirname(case), '.QB-10.xml.lock')), 'no lock is left')


def inside(program, root):
    import pyatspi
    home = os.environ['HOME']
    folder = os.path.join(home, 'cases')
    os.mkdir(folder)
    case = os.path.join(folder, 'QB-10.xml')
    with open(os.path.join(root, 'data', 'demo', 'QB-10.xml'), encoding='utf-8') as f, open(case, 'w', encoding='utf-8') as to:
        to.write(f.read())
    processes = []
    try:
        anna = Window(pyatspi, started(program, case, person(home, 'Anna Ast', 'AA'), processes))
        look('the answer at rest', lambda: anna.named('at rest · '))
        bert = Window(pyatspi, started(program, case, person(home, 'Bert Bo', 'BB'), processes))
        look('the answer at rest', lambda: bert.named('at rest · '))
        seen_by_the_second(anna, bert, case)
        remark_of_a_reader(anna, bert, case)
        taken_over(anna, bert)
        merged(anna, bert, case, *conflict(anna, bert, case))
        crash(anna, bert, case)
    finally:
        for process in reversed(processes):
            stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2], sys.argv[3]) if sys.argv[1] == 'inside' else outside(__file__, *sys.argv[1:]))
