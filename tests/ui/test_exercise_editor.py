#!/usr/bin/env python3
# test_exercise_editor.py - a teacher makes an exercise from a connector by keys alone: refused with the reason, saved, played, changed.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_exercise_editor.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import PATIENCE_S, Window, check, drawing_of, extents, look, nameless, outside, picture, quits, start, stop, xdo

PAGES = ('Exercise', 'Bridge and room', 'Passed when', 'Hints', 'Questions')


def own_folder():
    return os.path.join(os.environ['XDG_DATA_HOME'], 'soffit', 'practice', 'exercises')


def page(window, dialog, name):
    """By arrow keys in the list of pages."""
    window.tab_to('^(%s)$' % '|'.join(PAGES), dialog, key='shift+Tab')
    for _ in range(2 * len(PAGES)):
        at = look('a page', lambda: window.focused(dialog))
        if at.name == name:
            return
        key = 'Down' if PAGES.index(at.name) < PAGES.index(name) else 'Up'
        xdo('key', key)
        look('another page', lambda: window.focused(dialog).name != at.name)
    sys.exit('not ok: no page ' + name)


def field(window, dialog, name, text):
    window.tab_to('^%s$' % re.escape(name), dialog)
    xdo('key', 'ctrl+a')
    xdo('type', text)


def save(window, dialog, answer):
    window.tab_to('^Check and save$', dialog)
    xdo('key', 'space')
    return look(answer, lambda: window.named(answer))


def led(window, dialog, on, name, answer):
    """The page is turned to, the keys go on in the field, and what is wrong stands beside it."""
    at = look('the keys in ' + name, lambda: (f := window.focused(dialog)) and in_field(f, name) and f)
    page_of = look('its page', lambda: window.named('^%s$' % re.escape(on)))
    told, box = window.named(answer), extents(at)
    check(told, 'what is wrong is told', answer)
    words = extents(told)
    beside = words.x >= box.x + box.width and words.y < box.y + box.height and words.y + words.height > box.y
    below = 0 <= words.y - (box.y + box.height) < 40
    check(page_of and (beside or below), 'beside %s' % name, (box.x, box.y, box.width, box.height), (words.x, words.y))
    check(window.named('^Nothing was saved: what is wrong stands at its field on the page “%s”[.]$' % on), 'the page is named: ' + on)


def in_field(accessible, name):
    """The words of a field with arrows are a child of it."""
    return name in (accessible.name, (accessible.parent.name if accessible.parent else None))


def lead(window, dialog):
    """From another page the refusal leads back, by key and by pointer."""
    for how in ('key', 'pointer'):
        page(window, dialog, 'Questions')
        if how == 'key':
            window.tab_to('^Go to the field$', dialog)
            xdo('key', 'space')
        else:
            box = extents(window.named('^Go to the field$'))
            xdo('mousemove', *corner(window, box.x + box.width // 2, box.y + box.height // 2), 'click', 1)
        led(window, dialog, 'Exercise', 'Title', '^✗ The exercise has no title[.]')


def corner(window, x, y):
    """On the screen: the dialog lies above the window."""
    other = next(i for i in window.find_ids() if i != window.id)
    at = dict(re.findall('^(X|Y)=(-?[0-9]+)$', xdo_says('getwindowgeometry', '--shell', other), re.M))
    return int(at['X']) + x, int(at['Y']) + y


def xdo_says(*words):
    return subprocess.run(['xdotool', *map(str, words)], capture_output=True, text=True, check=True, timeout=PATIENCE_S).stdout


def make(window):
    xdo('key', 'ctrl+shift+l')
    dialog = window.dialog('New exercise')
    for name in PAGES:
        page(window, dialog, name)
        check(not (found := nameless(window, dialog, least=6)), name + ': everything that takes the focus has a name', *found)
    page(window, dialog, 'Exercise')
    save(window, dialog, '^✗ The exercise has no title[.] Write a few words, as in the list[.]$')
    led(window, dialog, 'Exercise', 'Title', '^✗ The exercise has no title[.]')
    picture('exercise-refused-title')
    lead(window, dialog)
    field(window, dialog, 'Title', 'Round it & rest')
    field(window, dialog, 'Task', 'Bring the pull down by a fifth.')
    field(window, dialog, 'Learnt', 'A round roof shares the pull.')
    field(window, dialog, 'Short name', '1.1')
    save(window, dialog, '^✗ There is an exercise 1[.]1 already: “From V to U”')
    led(window, dialog, 'Exercise', 'Short name', '^✗ There is an exercise 1[.]1 already')
    page(window, dialog, 'Exercise')
    field(window, dialog, 'Short name', 'own-1')
    page(window, dialog, 'Passed when')
    look('what the start has', lambda: window.named('^100 %$'))
    field(window, dialog, 'Criterion 1, at most', '5')
    refused = save(window, dialog, r'^✗ The best outline in this room reaches [0-9]+ MPa; the limit asks for [0-9]+[.] Ask for [0-9]+ %')
    led(window, dialog, 'Passed when', 'Criterion 1, at most', '^✗ The best outline in this room reaches')
    picture('exercise-refused')
    best, asked, percent = map(int, re.findall('([0-9]+) MPa; the limit asks for ([0-9]+)[.] Ask for ([0-9]+) %', refused.name)[0])
    check(best > asked and 5 < percent < 80, 'the reason has its figures', refused.name)
    check(not os.path.exists(own_folder()) or not os.listdir(own_folder()), 'what was refused is not saved')
    field(window, dialog, 'Criterion 1, at most', '80')
    page(window, dialog, 'Hints')
    window.tab_to('^Add a hint$', dialog)
    xdo('key', 'space')
    look('a hint', lambda: window.named('^Hint 1$'))
    page(window, dialog, 'Exercise')
    save(window, dialog, '^✗ Hint 1 is empty[.]')
    led(window, dialog, 'Hints', 'Hint 1', '^✗ Hint 1 is empty[.]')
    field(window, dialog, 'Hint 1', 'Look at the top.')
    saved = save(window, dialog, r'^✓ It can be done[.] Saved as .*own-1[.]xml')
    picture('exercise-saved')
    check(saved, 'it is saved')
    xdo('key', 'Escape')
    window.dialog_gone('New exercise')
    root = tree.parse(os.path.join(own_folder(), 'own-1.xml')).getroot()
    space = '{https://soffit.invalid/exercise}'
    check(root.get('title') == 'Round it & rest' and root.find(space + 'answer') is not None and
          root.find('.//%shint' % space).get('ghost') == 'yes', 'the file has its words and the drawing that was found')
    check('QB-02' not in tree.tostring(root, encoding='unicode'), 'the file does not tell whose case it was')


def play(window):
    """From the list to the score, without a stroke."""
    xdo('key', 'alt+3')
    look('the school bench with it', lambda: window.named('^Exercise own-1  Round it & rest'))
    xdo('key', 'ctrl+l')
    row = look('its row', lambda: window.named('^own-1  Round it & rest, Redraw, not passed yet$'))
    check(row and window.named('^Your own exercises$'), 'it stands in the list, among the own ones')
    xdo('key', 'End')
    look('the last row', lambda: (window.focused().name or '').startswith('own-1'))
    picture('exercise-list')
    xdo('key', 'Return')
    bare = look('the drawing', lambda: window.named('^Drawing of .* without its answer'))
    window.tab_to('^Drawing of .* without its answer')

    def crossed():
        there = re.search('^Cross at x ', bare.description or '')
        if not there:
            xdo('key', 'Down')
        return there
    look('the cross', crossed)
    window.tab_to('^How much more will your outline carry, percent$')
    xdo('key', 'Page_Up')
    look('the guess', lambda: window.named(r'^Your guess: \+[0-9]+ %$'))
    window.tab_to('^Show the pull$')
    xdo('key', 'space')
    look('step See', lambda: window.named('^Step [0-9], See: you are here$'))
    window.tab_to('^Hand in$')
    xdo('key', 'space')
    check(look('its score', lambda: window.named('^1 of 2: one step to go$')), 'it is scored by what the teacher asked')
    check(window.named('^Peak at most 80 % of the start'), 'its criterion stands in the table')


def change(window):
    """Opened again, the words are there; given up only when that is asked twice."""
    xdo('key', 'ctrl+shift+l')
    dialog = window.dialog('Edit exercise')
    window.tab_to('^Title$', dialog)
    xdo('key', 'End')
    xdo('type', 'er')
    xdo('key', 'Escape')
    look('the question', lambda: window.named('^This exercise is not saved[.] Leave once more'))
    save(window, dialog, r'^✓ It can be done[.] Saved as .*own-1[.]xml')
    xdo('key', 'Escape')
    window.dialog_gone('Edit exercise')
    check(os.listdir(own_folder()) == ['own-1.xml'], 'it is the same file', *os.listdir(own_folder()))
    look('its new title', lambda: window.named('^Exercise own-1  Round it & rester'))


def row(window, name):
    """The list, at this row."""
    xdo('key', 'ctrl+l')
    look('the list', lambda: window.named(name))
    xdo('key', 'End')
    return look('the last row', lambda: re.search(name, window.focused().name or ''))


def delete(window):
    """By key, taken back by key; by its button, taken back by the button; a shipped one stays."""
    row(window, '^own-1  Round it & rester, ')
    picture('exercise-delete')
    xdo('key', 'Delete')
    back = look('what can be taken back', lambda: window.named('^own-1  Round it & rester is deleted[.] Take back$'))
    check(not os.listdir(own_folder()) and not window.named('^own-1  Round it & rester, '), 'Delete takes its file and its row away')
    check(back.getState().contains(window.atspi.STATE_FOCUSED), 'the focus is where it is taken back')
    picture('exercise-deleted')
    xdo('key', 'ctrl+z')
    look('its row again', lambda: window.named('^own-1  Round it & rester, '))
    check(os.listdir(own_folder()) == ['own-1.xml'], 'Ctrl+Z brings it back')
    xdo('key', 'Home')
    first = look('the first row', lambda: (at := window.focused()).name.startswith('1.1  From V to U') and at)
    xdo('key', 'Delete')
    xdo('key', 'Down')
    look('the next row', lambda: window.focused().name.startswith('1.2  '))
    check(window.on_screen(first) and first.name.startswith('1.1  From V to U'), 'a shipped one is not deleted')
    xdo('key', 'Escape')
    row(window, '^own-1  Round it & rester, ')
    window.tab_to('^Delete own-1  Round it & rester$')
    xdo('key', 'space')
    look('it is gone', lambda: window.focused().name == 'own-1  Round it & rester is deleted. Take back')
    check(not os.listdir(own_folder()), 'its button deletes it, too')
    xdo('key', 'space')
    look('its row once more', lambda: window.named('^own-1  Round it & rester, '))
    check(os.listdir(own_folder()) == ['own-1.xml'], 'the button takes it back')
    xdo('key', 'Escape')
    window.alone()


def inside(program, root):
    import pyatspi
    with tempfile.TemporaryDirectory() as folder:
        case = os.path.join(folder, 'QB-02.xml')
        shutil.copy(os.path.join(root, 'data', 'demo', 'QB-02.xml'), case)
        process = start(program, case)
        try:
            window = Window(pyatspi, process)
            look('the drawing', lambda: drawing_of(window, '35/36'))
            make(window)
            play(window)
            change(window)
            delete(window)
            quits(process)
        finally:
            stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2], sys.argv[3]) if sys.argv[1] == 'inside' else outside(__file__, *sys.argv[1:]))
