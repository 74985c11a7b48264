#!/usr/bin/env python3
# test_pages.py - pages and dialogs by keys alone: bites, record of a break, material cards, records of breaks, why a step, waterfall,
# a broken bar.  Each opens by keys, takes an edit, tells a wrong entry, is undone, closes.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_pages.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import Window, check, environment, look, nameless, outside, press, quits, stop, xdo


def write(text):
    xdo('key', 'ctrl+a', 'type', '--delay', 20, text)


def modified(window):
    return window.named('^QB-10 •$')


def undone(window, what):
    look('the case changed', lambda: modified(window))
    xdo('key', 'ctrl+z')
    check(look('the case as it was', lambda: window.named('^QB-10$')), what + ': Ctrl+Z brings the case back')


def case_page(window, page):
    """The case dialog at this page, chosen by keys in its list."""
    xdo('key', 'ctrl+e')
    dialog = window.dialog('Edit case')
    window.tab_to('^%s$' % page, dialog, key='Down', most=10)
    return dialog


def take_over(window, dialog):
    window.tab_to('^Take over$', dialog)
    xdo('key', 'space')


def bites(window):
    dialog = case_page(window, 'Bites')
    window.tab_to('^Add a bite$', dialog)
    xdo('key', 'space')
    check(look('the bite', lambda: re.search('^Place of the bite: worst place', window.focused(dialog).name)),
          'bites: added by keys, the focus goes on to its place')
    xdo('key', 'space', 'Down', 'Return')  # the list of places: a place in mm
    window.tab_to('^Place, mm from the left end$', dialog)
    write('400')
    take_over(window, dialog)
    check(look('the message', lambda: next((a for a in window.shown(dialog) if re.search('^bite 1: ', a.name or '')), None)),
          'bites: a place beyond the bridge is told, and the dialog stays')
    window.tab_to('^Place, mm from the left end$', dialog)
    write('12.5')
    check(not (found := nameless(window, dialog)), 'bites: everything that takes the focus has a name', *found)
    take_over(window, dialog)
    window.dialog_gone('Edit case')
    undone(window, 'bites')
    dialog = case_page(window, 'Bites')
    window.tab_to('^Add a bite$', dialog)
    check(not any(re.search('^Place of the bite', a.name or '') for a in window.shown(dialog)), 'bites: none is left after the undo')
    xdo('key', 'Escape')
    window.dialog_gone('Edit case')


def record(window):
    dialog = case_page(window, 'After a break')
    window.tab_to('^Sketch of 46/47. Start of the break at x 0.3, y –', dialog)
    xdo('key', 'Right')
    look('a height', lambda: re.search(r'at x 0.3, y \d', window.focused(dialog).name))
    xdo('key', 'Right', 'Right')
    check(look('the place moved', lambda: re.search(r'at x 0.5, y \d', window.focused(dialog).name)),
          'record of a break: arrows begin on the line and move its start')
    window.tab_to('^Photo$', dialog)
    write('../face.jpg')
    take_over(window, dialog)
    check(look('the message', lambda: next((a for a in window.shown(dialog) if 'leaves the folder of the case' in (a.name or '')),
                                           None)), 'record of a break: a photo outside of the folder is told')
    window.tab_to('^Photo$', dialog)
    write('face.jpg')
    take_over(window, dialog)
    window.dialog_gone('Edit case')
    undone(window, 'record of a break')
    dialog = case_page(window, 'After a break')
    check(window.tab_to('^Sketch of 46/47. Start of the break at x 0.3', dialog), 'record of a break: the old place is there again')
    xdo('key', 'Escape')
    window.dialog_gone('Edit case')


def cards(window):
    xdo('key', 'ctrl+m')
    dialog = window.dialog('Material cards')
    before = [a.name for a in window.shown(dialog) if a.getRoleName() == 'list item']
    window.tab_to('^Copy to edit$', dialog)
    xdo('key', 'space')
    look('what to do', lambda: next((a for a in window.shown(dialog) if a.name == 'A copy: change it, then save it.'), None))
    window.tab_to('^Name$', dialog)
    xdo('key', 'ctrl+a', 'BackSpace')
    window.tab_to('^Save card$', dialog, key='ISO_Left_Tab')
    xdo('key', 'space')
    check(look('the message', lambda: next((a for a in window.shown(dialog) if 'The card has no name.' in (a.name or '')), None)),
          'material cards: a card without a name is refused')
    window.tab_to('^Zirconia 3Y, own copy\nnot saved yet$', dialog)
    xdo('key', 'Up', 'Down')  # another card looked at: what was typed stays
    look('the empty name', lambda: next((a for a in window.shown(dialog) if a.name == 'Name' and a.getRoleName() == 'text' and
                                         a.queryText().getText(0, -1) == ''), None))
    window.tab_to('^Name$', dialog)
    write('own 7')
    window.tab_to('^Entered by$', dialog)
    write('AB')
    window.tab_to('^Save card$', dialog, key='ISO_Left_Tab')
    xdo('key', 'space')
    check(look('the card', lambda: next((a for a in window.shown(dialog) if a.getRoleName() == 'list item' and
                                         a.name.startswith('own 7') and a.name not in before), None)),
          'material cards: the copy is in the list')
    check(not (found := nameless(window, dialog)), 'material cards: everything that takes the focus has a name', *found)
    xdo('key', 'Escape')
    window.dialog_gone('Material cards')


def records(window, folder):
    xdo('key', 'ctrl+b')
    dialog = window.dialog('Records of breaks')
    row = look('the record', lambda: next((a for a in window.shown(dialog) if a.getRoleName() == 'list item' and
                                           a.name.startswith('QB-10.')), None))
    check('Expected: 46/47, roof; Found: 46/47, roof' in row.name and 'Result: hit' in row.name,
          'records of breaks: the row says expected, found and result', row.name)
    check(look('the trouble', lambda: next((a for a in window.shown(dialog) if 'no-case.xml:1: ' in (a.name or '')), None)),
          'records of breaks: a file that is no case is told with its line')
    check(look('the hits', lambda: next((a for a in window.shown(dialog) if re.search(r'^100 % \(27–100\)$', a.name or '')), None)),
          'records of breaks: the hits have their band')
    window.tab_to('^QB-10. ', dialog)
    xdo('key', 'Return')
    window.dialog_gone('Records of breaks')
    check(look('the case', lambda: window.named('^QB-10$')), 'records of breaks: Enter opens the case')
    xdo('key', 'ctrl+b')
    window.dialog('Records of breaks')
    xdo('key', 'Escape')
    window.dialog_gone('Records of breaks')


def list_step(window):
    at = window.tab_to(', now\\.', most=60)
    name = at.name
    xdo('key', 'F2')
    told = look('why', lambda: next((a for a in window.shown(at) if re.search('^Source: |\nSource: ', a.name or '')), None))
    check(told, 'finishing list: F2 says why, with its source')
    xdo('key', 'F2')
    look('folded again', lambda: not any('Source: ' in (a.name or '') for a in window.shown(at)))
    xdo('key', 'Up')
    look('another row', lambda: window.focused() and window.focused().name != name)
    other = window.focused().name
    check(re.search(', (done|now|waits)\\.', other), 'finishing list: arrows go from step to step', other)
    xdo('key', 'Tab')
    look('out of the list', lambda: window.focused() and not re.search(', (done|now|waits)\\.', window.focused().name or ''))
    xdo('key', 'ISO_Left_Tab')
    check(look('back at the row', lambda: window.focused().name == other), 'finishing list: one Tab stop, and Tab comes back to its row')
    xdo('key', 'Down')
    look('the step now', lambda: window.focused().name == name)
    xdo('key', 'space')  # the bridge is fired: a warning first
    check(look('the warning', lambda: re.search('do not cut .* Tick once more', window.focused().name or '')),
          'finishing list: what would harm is told before it is ticked')
    xdo('key', 'space')  # no initials yet: they are asked for
    look('the initials', lambda: re.search('^Initials', window.focused().name or ''))
    xdo('type', '--delay', 20, 'AB')
    xdo('key', 'Return')
    check(look('ticked', lambda: next((a for a in window.shown() if re.search(', done\\..*AB · ', a.name or '')), None)),
          'finishing list: Space and initials tick the step')
    undone(window, 'finishing list')


def waterfall(window):
    window.tab_to('^From the best to this one$', most=60)
    xdo('key', 'space')
    check(look('the steps', lambda: next((a for a in window.shown() if re.search(r'^× [\d.]+ \(', a.name or '')), None)),
          'waterfall: opens by keys, and says its steps')
    xdo('key', 'space')
    look('folded', lambda: not any(re.search(r'^× [\d.]+ \(', a.name or '') for a in window.shown()))


def broken_bar(window):
    xdo('key', 'alt+4')
    press(look('the example', lambda: window.named('^Try an example$')))
    look('two sets', lambda: window.named(r'^\+\d+ %$'))
    window.tab_to('^Where a bar broke$')
    xdo('key', 'space')
    window.tab_to('^Picture of the bar', most=60)
    xdo('key', 'Right')
    check(look('a place', lambda: window.named('^Picture of the bar. Start of the break at x 0.00, height 0.00')),
          'broken bar: arrows begin in the middle of the stretched edge')
    check(look('compared', lambda: window.named('^Largest pull expected: stretched edge, 455 MPa. It began there.')),
          'broken bar: compared with the largest pull')
    check(look('counted', lambda: window.named(r'^This set: 1 of 1 began where expected, 100 % \(27–100')),
          'broken bar: counted with its band')
    lines = look('the lines of the first set', lambda: next(
        (a for a in window.shown() if (a.name or '').startswith('bars, one line each') and
         a.queryText().getText(0, 7) == 'force_n'), None))
    text = lines.queryText().getText(0, -1)
    check(text.startswith('force_n;width_mm;thickness_mm;length_mm;origin_x_mm;origin_y_mm\n1092;4;3;;0;0\n'),
          'broken bar: kept in the lines of its set', text[:90])
    window.tab_to('^Photo, file beside the table$', most=20)
    write('../a.jpg')
    check(look('the message', lambda: window.named('leaves the folder. Put the photo beside the table')),
          'broken bar: a photo outside of the folder is told')
    write('a')
    look('the photo kept', lambda: ';a\n' in lines.queryText().getText(0, -1))
    window.tab_to('^Picture of the bar', most=60, key='ISO_Left_Tab')
    for _ in range(8):
        xdo('key', 'ctrl+z')
    check(look('the lines as they were', lambda: lines.queryText().getText(0, -1).startswith('1092\n1267\n')),
          'broken bar: Ctrl+Z takes the record back')
    check(not (found := nameless(window)), 'broken bar: everything that takes the focus has a name', *found)
    xdo('key', 'alt+1')


def inside(program, root):
    import pyatspi
    folder = os.path.join(os.environ['HOME'], 'cases')
    os.mkdir(folder)
    for name in ('QB-01', 'QB-10'):
        with open(os.path.join(root, 'data', 'demo', name + '.xml'), encoding='utf-8') as f, \
             open(os.path.join(folder, name + '.xml'), 'w', encoding='utf-8') as to:
            to.write(f.read())
    with open(os.path.join(folder, 'no-case.xml'), 'w', encoding='utf-8') as f:
        f.write('<p>no case</p>\n')
    process = subprocess.Popen([program, os.path.join(folder, 'QB-10.xml')], env=environment())
    try:
        window = Window(pyatspi, process)
        look('the answer at rest', lambda: window.named('at rest · '))
        bites(window)
        record(window)
        cards(window)
        records(window, folder)
        list_step(window)
        waterfall(window)
        broken_bar(window)
        xdo('key', 'ctrl+b')
        window.dialog('Records of breaks')
        quits(process, 'Ctrl+Q ends the program under a dialog')
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2], sys.argv[3]) if sys.argv[1] == 'inside' else outside(__file__, *sys.argv[1:]))
