#!/usr/bin/env python3
# test_class.py - a teacher at the class folder: a share that does not answer, files that cannot be read, one page a trainee on paper.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_class.py SOFFIT SOURCE_ROOT [de_DE.UTF-8].  Left out (77) without the tools that person.py, poppler and qpdf bring.
# A file that never answers is a named pipe that nobody writes: opening it waits, as on a share whose machine is gone.
import hashlib
import os
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import person
from person import PATIENCE_S, Window, check, chooses_files, german, look, nameless, outside, picture, quits, said, start, stop, xdo

TRAINEES = {'Ada Lindqvist': 3, 'Björn Öztürk-Brandstätter': 12, 'Chen': 60, 'Dora': 0}  # attempts of each; names are invented
DAY_S = 86400
A4 = (595.276, 841.89)  # points, ISO 216: 210 mm by 297 mm


def progress(trainee, attempts):
    """A progress file as Soffit keeps it: whole by the SHA-256 of all before its last line."""
    text = '[progress]\nversion=1\ntrainee=%s\n' % trainee
    for i in range(attempts):
        text += '\n[attempt %d]\nexercise=%s\nwhen=%d\npassed=%s\nmet=%d\nof=5\nshare=%.1f\nhints=%d\nshown=false\nstrokes=4\nplace=0.4\nguess=30\ngain=68\n' % (
            i + 1, '%d.%d' % (1 + i // 6 % 4, 1 + i % 6), 1770000000 + i * DAY_S, 'true' if i % 2 == 0 else 'false', 5 if i % 2 == 0 else 3,
            1 if i % 2 == 0 else 0.6, i % 3)
        text += '%s=radius;\n' % ('right' if i % 2 == 0 else 'wrong')
    return text + '# whole ' + hashlib.sha256(text.encode()).hexdigest() + '\n'


def class_folder(place):
    folder = os.path.join(place, 'Klasse 2')
    os.makedirs(folder)
    for i, (trainee, attempts) in enumerate(TRAINEES.items()):
        with open(os.path.join(folder, 'bench-%d.progress' % (i + 1)), 'w', encoding='utf-8') as f:
            f.write(progress(trainee, attempts))
    with open(os.path.join(folder, 'bench-5.progress'), 'w', encoding='utf-8') as f:
        f.write(progress('Cut', 5)[:200])
    os.makedirs(os.path.join(folder, 'bench-6.progress'))  # is there, is not to be read
    os.mkfifo(os.path.join(folder, 'bench-7.progress'))
    config = os.path.join(os.environ['XDG_CONFIG_HOME'], 'soffit')
    os.makedirs(config)
    with open(os.path.join(config, 'window.ini'), 'w', encoding='utf-8') as f:
        f.write('[window]\nclass-folder=%s\n' % folder)
    return folder


def tongue():
    return 'de' if person.LOCALE.startswith('de') else 'en'


def output(*command):
    return subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE_S)


def paper(pdf, word):
    """The pages as they are read back, each of its trainee alone."""
    found = output('qpdf', '--check', pdf)
    check(found.returncode == 0, 'qpdf finds nothing wrong', found.stderr)
    info = output('pdfinfo', '-f', '1', '-l', '99', pdf).stdout
    sizes = re.findall(r'Page +\d+ size: +([\d.]+) x ([\d.]+)', info)
    check(len(sizes) == len(TRAINEES) and all(abs(float(w) - A4[0]) < 0.5 and abs(float(h) - A4[1]) < 0.5 for w, h in sizes),
          'one page of A4 a trainee', len(sizes))
    for n, (trainee, attempts) in enumerate(TRAINEES.items(), 1):
        text = output('pdftotext', '-layout', '-f', str(n), '-l', str(n), pdf, '-').stdout
        others = [name for name in TRAINEES if name != trainee and re.search(r'^ *%s ' % re.escape(name), text, re.M)]
        check(re.search(r'^ *%s ' % re.escape(trainee), text, re.M) and not others, 'page %d is that of %s' % (n, trainee), *others)
        passed = len({i % 24 for i in range(attempts) if i % 2 == 0})
        check(word('{0} of {1} passed').replace('{0}', str(passed)).replace('{1}', '24') in text, 'with what was passed:', passed)
        days = re.findall(r'^ *(2026-\d\d-\d\d) +(\d\.\d) ', text, re.M)
        check(days == sorted(days, reverse=True) and (not days or days[0] == max(days)), 'its attempts, the latest first:', len(days))
        earlier = word('… and {0} earlier ones').replace('{0}', str(attempts - len(days)))
        check(len(days) == attempts or len(days) > 15 and earlier in text, 'those that found no room are counted', attempts - len(days))
        shown, missed = (attempts + 1) // 2, attempts // 2
        check(re.search(r'^ *%s +%d +%d +\d+( |$)' % (word('Roof radius'), shown, missed), text, re.M), 'roof radius: shown and not shown', shown, missed)
        for msgid in ('Understood', 'Predicted', 'Attempts', 'Roof radius', 'School bench'):
            check(word(msgid) in text, 'with the words', word(msgid))
        check(word(RELEASE) in re.sub(r'\s+', ' ', text), 'and what it is not')
        wide = [float(x) for x in re.findall(r'xMax="([\d.]+)"', output('pdftotext', '-bbox', '-f', str(n), '-l', str(n), pdf, '-').stdout)]
        check(len(wide) > 40 and max(wide) < A4[0] - 20, 'nothing runs out of the page:', round(max(wide)))
        folder = os.environ.get('SOFFIT_TEST_PICTURES')
        if folder:
            output('pdftoppm', '-r', '70', '-png', '-f', str(n), '-l', str(n), pdf, os.path.join(folder, 'class-%s-page' % tongue()))


def box_said(word):
    """Ada showed roof radius, then did not, then showed it: the second box."""
    return word('; %s: box %d of %d', False).replace('(.*?)', word('Roof radius', False), 1).replace('(.*?)', '[1-5]', 1).replace('(.*?)', '5', 1)


RELEASE = "Practice work is kept apart from patients' work and releases no bridge. Not a medical device."


def inside(program, _root, locale=None):
    import pyatspi
    person.LOCALE = locale or person.LOCALE

    def word(msgid, whole=True):
        return said(program, msgid, whole)

    def plain(msgid):
        return re.sub(r'\\(.)', r'\1', word(msgid, False))

    def opened():
        xdo('key', 'ctrl+shift+k')
        return window.dialog(plain('Class'))

    def saved(name):
        pdf = os.path.join(place, name)
        window.tab_to(word('Save as PDF…'), dialog)
        before = set(window.find_ids())
        xdo('key', 'space')
        files = look('the dialog of the system', lambda: next(iter(set(window.find_ids()) - before), None))
        xdo('windowfocus', '--sync', files)
        xdo('key', 'ctrl+a', 'type', '--delay', 4, pdf)
        xdo('key', 'Return')
        look('the file', lambda: os.path.exists(pdf))
        look('that it is saved', lambda: window.named('^' + word('✓ Saved as %s, one page a trainee.', False)))
        look('the dialog of the system gone', lambda: files not in window.find_ids())
        xdo('windowfocus', '--sync', next(i for i in window.find_ids() if i != window.id))
        return pdf

    with tempfile.TemporaryDirectory() as place:
        if locale:
            german(place)
        folder = class_folder(place)
        chooses_files()
        process = start(program)
        try:
            window = Window(pyatspi, process)
            look('the window', lambda: window.named(word('Practice')))
            dialog = opened()
            late = look('that the folder does not answer', lambda: window.named(word('%s The folder does not answer: wait, or choose another.')))
            check('6' in late.name and '7' in late.name, 'how much of it was read is told:', late.name)
            for name in TRAINEES:
                check(window.named('%s: %s; ' % (word('Trainee', False), re.escape(name))), 'read before it stopped:', name)
            check(window.named('%s: Ada Lindqvist.*%s' % (word('Trainee', False), box_said(word))), 'the box of a skill is said')
            check(not (found := nameless(window, dialog, least=3)), 'everything that takes the focus has a name', *found)
            picture('class-late-' + tongue())
            paper(saved('late.pdf'), plain)
            xdo('key', 'Escape')
            window.dialog_gone(plain('Class'))
            check(process.poll() is None, 'the dialog closes though its folder never answers')

            os.remove(os.path.join(folder, 'bench-7.progress'))
            dialog = opened()
            message = look('what was left out', lambda: window.named('bench-5[.]progress')).name
            check(message.count('\n') == 1 and 'bench-6.progress' in message and plain('See that you may read it, or move it away.') in message,
                  'each file left out is named with what to do:', message)
            picture('class-' + tongue())
            paper(saved('class.pdf'), plain)
            xdo('key', 'Escape')
            window.dialog_gone(plain('Class'))
            quits(process, 'Ctrl+Q ends the program, though a thread still waits')
        finally:
            stop(process)
    return 0


if __name__ == '__main__':
    if len(sys.argv) > 1 and sys.argv[1] == 'inside':
        sys.exit(inside(*sys.argv[2:]))
    if missing := [tool for tool in ('qpdf', 'pdfinfo', 'pdftotext') if not shutil.which(tool)]:
        print('left out, missing:', *missing)
        sys.exit(77)
    sys.exit(outside(os.path.abspath(__file__), *sys.argv[1:]))
