#!/usr/bin/env python3
# test_full_disk.py - the disk is full while a person works: a case saved, a decision, a paper; each is told with file and remedy, nothing is lost.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_full_disk.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
# Full is a limit on the size of the files of the running program (prlimit, RLIMIT_FSIZE): a write that goes beyond it fails, as on a
# device without room.  It needs no rights, where a mount does.
import os
import re
import resource
import shutil
import subprocess
import sys
import xml.etree.ElementTree as tree

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import PATIENCE_S, Window, check, chooses_files, look, outside, picture, quits, start, stop, xdo

CASES = 4     # three of them wait
FULL = 2000  # bytes: less than any case or paper
REMEDY = 'The file is larger than this place allows: save to another place'


class Disk:
    def __init__(self, process):
        self.pid, self.room = process.pid, resource.prlimit(process.pid, resource.RLIMIT_FSIZE)

    def fill(self):
        resource.prlimit(self.pid, resource.RLIMIT_FSIZE, (FULL, self.room[1]))

    def free(self):
        resource.prlimit(self.pid, resource.RLIMIT_FSIZE, self.room)


def content(path):
    with open(path, 'rb') as f:
        return f.read()


def whole(lab, kept):
    """Every file is as it was, and none was left half written."""
    now = {n: content(os.path.join(lab, n)) for n in os.listdir(lab) if not n.endswith('.lock')}
    check(now == kept, 'the files are as they were, and no other lies there', *sorted(set(now) ^ set(kept)))


def told(window, path, more=''):
    """The file that is named, by its path."""
    pattern = '(%s%s): the file was not saved .*%s' % (re.escape(path), more, REMEDY)
    found = look('what is wrong', lambda: window.named(pattern))
    check(found, 'file and remedy are told:', found.name)
    return re.search(pattern, found.name)[1]


def above(window, below):
    new = look('a window above', lambda: next((i for i in window.find_ids() if i not in below), None))
    xdo('windowfocus', '--sync', new)
    return new


def case_saved(window, disk, case, lab, kept):
    window.tab_to('^Drawing of connector ', most=60)
    xdo('key', 'u')
    look('drawn', lambda: window.named('^Undo: Start from a U$'))
    disk.fill()
    xdo('key', 'ctrl+s')
    told(window, case)
    picture('full-case')
    whole(lab, kept)
    check(window.named('^QB-02 •$') and window.named('^Undo: Start from a U$'), 'the work is still there, and not saved')
    disk.free()
    xdo('key', 'ctrl+s')
    look('saved', lambda: window.named('^QB-02$'))
    check(look('the file', lambda: content(case) != kept['QB-02.xml']), 'with room again it is saved')


def paper(window, disk, lab):
    kept = {n: content(os.path.join(lab, n)) for n in os.listdir(lab) if not n.endswith('.lock')}
    pdf = os.path.join(lab, 'sheet.pdf')
    xdo('key', 'ctrl+p')
    dialog = above(window, [window.id])
    top = look('the dialog', lambda: next((w for w in window.app if w.name == 'Print'), None))
    look('the answer at rest', lambda: (names := [a.name or '' for a in window.shown(top)]) and len(names) > 8 and
         not any(name.startswith('Please wait') for name in names))
    window.tab_to('^Save as PDF…$', top)
    xdo('key', 'space')
    files = above(window, [window.id, dialog])
    disk.fill()
    xdo('key', 'ctrl+a', 'type', '--delay', 4, pdf)
    xdo('key', 'Return')
    told(window, pdf)
    look('the dialogs gone', lambda: files not in window.find_ids())
    picture('full-paper')
    whole(lab, kept)
    disk.free()
    if dialog in window.find_ids():
        xdo('windowfocus', '--sync', dialog, 'key', 'Escape')
        look('the dialog gone', lambda: dialog not in window.find_ids())
    xdo('windowfocus', '--sync', window.id)


def decision(window, disk, lab):
    """Words and remedy at the decision; the case still waits, the words typed are still there, and once there is room it is taken."""
    kept = {n: content(os.path.join(lab, n)) for n in os.listdir(lab) if not n.endswith('.lock')}
    xdo('key', 'alt+2')
    look('all cases judged', lambda: window.named(r': %d cases$' % len(kept)))
    look('the case', lambda: window.named('at the order’s load: '))
    waits = look('how many wait', lambda: window.named(r'^\d+ waits?'))
    before = waits.name
    disk.fill()
    window.tab_to('^Closing words of the decision$', most=60)
    xdo('type', '--delay', 5, 'make the neck higher')
    window.tab_to('^Return', most=20)
    xdo('key', 'space')
    case = told(window, os.path.join(lab, 'MC-'), '[0-9]+[.]xml')
    picture('full-decision')
    whole(lab, kept)
    check(look('it waits', lambda: window.named(r'^\d+ waits?').name == before), 'the case still waits:', before)
    field = window.named('^Closing words of the decision$')
    check('make the neck higher' in words_of(field), 'the closing words are still there')
    disk.free()
    window.tab_to('^Return', most=60)
    xdo('key', 'space')
    look('the decision', lambda: any(e.get('kind') == 'return' for e in tree.parse(case).getroot().iter() if e.tag.endswith('}entry')))
    check('make the neck higher' in content(case).decode(), 'with room again the decision is written, with its words')


def words_of(field):
    return field.queryText().getText(0, -1)


def inside(program, root):
    import pyatspi
    chooses_files()
    lab = os.path.join(os.environ['HOME'], 'lab')
    os.makedirs(lab)
    case = os.path.join(lab, 'QB-02.xml')
    shutil.copy(os.path.join(root, 'data', 'demo', 'QB-02.xml'), case)
    subprocess.run([sys.executable, os.path.join(root, 'tests', 'made_cases.py'), lab, str(CASES), '7'], check=True, timeout=PATIENCE_S)
    kept = {n: content(os.path.join(lab, n)) for n in os.listdir(lab)}
    config = os.path.join(os.environ['XDG_CONFIG_HOME'], 'soffit')
    os.makedirs(config)
    with open(os.path.join(config, 'window.ini'), 'w', encoding='utf-8') as f:
        f.write('[window]\nlab-folder=%s\nperson-name=Vera Vogt\nperson-initials=VV\nperson-role=supervisor\n' % lab)
    process = start(program, case)
    try:
        window = Window(pyatspi, process)
        look('the answer', lambda: window.named(' MPa'))
        disk = Disk(process)
        case_saved(window, disk, case, lab, kept)
        paper(window, disk, lab)
        decision(window, disk, lab)
        quits(process, 'the program ran all the while, and ends')
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(sys.argv[2], sys.argv[3]) if sys.argv[1] == 'inside' else outside(__file__, *sys.argv[1:]))
