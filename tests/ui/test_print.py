#!/usr/bin/env python3
# test_print.py - a case on paper by keys alone: Ctrl+P, the pages on the screen, a PDF file and one by the printer's dialog, as poppler and qpdf read them.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_print.py SOFFIT SOURCE_ROOT.  Left out (77) without the tools that person.py names.
import gettext
import os
import re
import resource
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import LOCALE, PATIENCE_S, Window, check, chooses_files, extents, look, nameless, outside, picture, quits, said, start, stop, xdo


def above(window, below):
    """Gives the keys to the window that came on top of these."""
    new = look('a window above', lambda: next((i for i in window.find_ids() if i not in below), None))
    xdo('windowfocus', '--sync', new)
    return new


def gone(window, which, back):
    look('the window gone', lambda: which not in window.find_ids())
    xdo('windowfocus', '--sync', back)


def inside(program, root):
    import pyatspi
    chooses_files()

    def word(msgid, whole=True):
        return said(program, msgid, whole)

    def shown(title):
        return look(title, lambda: next((w for w in window.app if re.search(word(title), w.name or '')), None))

    def mnemonic(msgid):
        return 'alt+' + re.search('_(.)', gtk_word(msgid))[1].lower()

    def to_file(path):
        """The printer's own dialog, with GTK's printer to a file chosen and the name it offers."""
        xdo('key', 'ctrl+p')
        dialog = above(window, [window.id])
        ready(shown('Print'))
        window.tab_to(word('Print…'), shown('Print'))
        xdo('key', 'space')
        printer = above(window, [window.id, dialog])
        box = extents(look('Print to File', lambda: window.named('^' + gtk_word('Print to File') + '$')))
        xdo('mousemove', '--window', printer, box.x + box.width // 2, box.y + box.height // 2, 'click', 1)
        look('its file', lambda: window.named(re.escape(os.path.basename(path)) + '$'))
        return printer

    def gtk_word(msgid):
        return gettext.translation('gtk40', '/usr/share/locale', [LOCALE[:2]], fallback=True).gettext(msgid)

    def ready(top):
        """By its words: AT-SPI called buttons sensitive that the picture showed greyed out."""
        look('the answer at rest', lambda: (names := [a.name or '' for a in window.shown(top)]) and len(names) > 8 and
             not any(re.search(word('Please wait: Soffit still works on the answer.'), name) for name in names))

    def pages(pdf):
        info = subprocess.run(['pdfinfo', pdf], capture_output=True, text=True, timeout=PATIENCE_S)
        return info.returncode == 0 and int(re.search(r'Pages: +(\d+)', info.stdout)[1]), info.stdout

    case = os.path.join(os.environ['HOME'], 'QB-02.xml')
    shutil.copy(os.path.join(root, 'data', 'demo', 'QB-02.xml'), case)
    pdf = os.path.join(os.environ['HOME'], 'sheet')
    process = start(program, case)
    try:
        window = Window(pyatspi, process)
        look('the answer', lambda: window.named(' MPa'))
        xdo('key', 'ctrl+p')
        dialog = above(window, [window.id])
        top = shown('Print')
        ready(top)
        check(True, 'it waits for the answer at rest, then all may be asked for')
        check(not (found := nameless(window, top, least=8)), 'everything that takes the focus has a name', *found)
        picture('print')

        window.tab_to(word('Preview'), top)
        xdo('key', 'space')
        preview = above(window, [window.id, dialog])
        top = shown('Preview')
        first = look('the first page', lambda: next((m for a in window.shown(top) if (m := re.search(
            word('page %u of %u'), a.name or ''))), None))
        n = int(first[2])
        check(first[1] == '1' and n >= 8, 'the preview begins with page 1 of', n)
        check(not (found := nameless(window, top, least=3)), 'everything in the preview has a name', *found)
        named = {a.name for a in window.shown(top) if re.search(word('Page %u of %u'), a.name or '')}
        check(len(named) == n, 'every page has a name', len(named))
        picture('print-preview')
        xdo('key', 'Next')
        look('the second page', lambda: window.named('^' + re.sub(r'\(\.\*\?\)', '2', word('page %u of %u', False), count=1)))
        picture('print-preview-2')
        xdo('key', 'End')
        look('the last page', lambda: next((m for a in window.shown(top) if (m := re.search(
            word('page %u of %u'), a.name or '')) and m[1] == m[2]), None))
        xdo('key', 'Escape')
        gone(window, preview, dialog)

        window.at = None
        top = shown('Print')
        window.tab_to(word('Save as PDF…'), top)
        xdo('key', 'space')
        files = above(window, [window.id, dialog])
        xdo('key', 'ctrl+a', 'type', '--delay', 4, pdf)
        xdo('key', 'Return')
        look('the file', lambda: os.path.exists(pdf + '.pdf'))
        count, info = pages(pdf + '.pdf')
        check(count == n, 'pdfinfo counts the pages of the preview', info)
        look('the dialog gone', lambda: dialog not in window.find_ids() and files not in window.find_ids())
        xdo('windowfocus', '--sync', window.id)

        # the printer's own dialog comes, without any printer too; not under the sanitizers: GTK's printer modules leak
        if 'ASAN_OPTIONS' not in os.environ:
            printed = os.path.join(os.environ['HOME'], 'QB-02.pdf')  # beside the case
            printer = to_file(printed)
            xdo('key', mnemonic('Pre_view'))  # our own pages: no other program is needed
            preview = above(window, [window.id, printer])
            look('the first page', lambda: any(re.search(word('page %u of %u'), a.name or '') for a in window.shown(shown('Preview'))))
            xdo('key', 'Escape')
            gone(window, preview, window.id)
            check(printer not in window.find_ids(), 'preview of the printer’s dialog: the same pages')
            printer = to_file(printed)
            picture('print-printer')
            xdo('key', mnemonic('_Print'))
            gone(window, printer, window.id)
            look('the printed file', lambda: os.path.exists(printed) and pages(printed)[0])
            count, info = pages(printed)
            check(count == n, 'Print to File: pdfinfo counts the pages of the preview', info)
            check(subprocess.run(['qpdf', '--check', printed], capture_output=True, timeout=PATIENCE_S).returncode == 0, 'qpdf finds nothing wrong')
            sizes = re.findall(r'Page +\d+ size: +([\d.]+) x ([\d.]+)', subprocess.run(
                ['pdfinfo', '-f', '1', '-l', str(n), printed], capture_output=True, text=True, timeout=PATIENCE_S).stdout)
            check(len(sizes) == n and all(abs(float(w) - 595.276) < 0.5 and abs(float(h) - 841.89) < 0.5 for w, h in sizes), 'A4 on every page', sizes)
            same = [subprocess.run(['pdftotext', path, '-'], capture_output=True, text=True, timeout=PATIENCE_S).stdout.split() for path in (printed, pdf + '.pdf')]
            same = [[w for w in words if not re.fullmatch(r'\d\d:\d\d', w)] for words in same]  # each was made in a minute of its own
            check(len(same[0]) > 300 and set(same[0]) == set(same[1]), 'the words of the saved PDF', len(same[0]), set(same[0]) ^ set(same[1]))
            os.unlink(printed)
            printer = to_file(printed)
            room = resource.prlimit(process.pid, resource.RLIMIT_FSIZE)
            resource.prlimit(process.pid, resource.RLIMIT_FSIZE, (60000, room[1]))  # a disk that is full: less than the pages need
            xdo('key', mnemonic('_Print'))
            told = look('what is wrong', lambda: window.named(word('%s: it was not printed. Make room, or print to another place.')))
            check(printed in told.name and not os.path.exists(printed), 'Print to File on a full disk: file and remedy are told, no half file is left', told.name)
            picture('print-full')
            resource.prlimit(process.pid, resource.RLIMIT_FSIZE, room)
            gone(window, printer, window.id)

        xdo('key', 'ctrl+p')
        dialog = above(window, [window.id])
        xdo('key', 'Escape')
        gone(window, dialog, window.id)
        check(True, 'Escape closes the dialog')
        quits(process)
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(*sys.argv[2:4]) if sys.argv[1] == 'inside' else outside(__file__, *sys.argv[1:]))
