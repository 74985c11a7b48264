#!/usr/bin/env python3
# test_po.py - the catalogues: whole, agreeing with the sources, found by a program in its build folder.  TAP output.
# SPDX-License-Identifier: GPL-3.0-or-later
# Usage: test_po.py SOFFIT_CLI SOURCE_ROOT XGETTEXT_ARGUMENT...
import os
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
from tap import check, plan

CLI, ROOT, WORDS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2]), sys.argv[3:]
PO = os.path.join(ROOT, 'po')


def run(*command, **env):
    p = subprocess.run(command, capture_output=True, text=True, timeout=60, env={**os.environ, **env})
    return p.returncode, p.stdout, p.stderr


def lines(name):
    with open(os.path.join(PO, name), encoding='utf-8') as f:
        return [s for s in (line.split('#')[0].strip() for line in f) if s]


def entries(path):
    """(msgid, msgstr) of each entry as msgcat writes it, one line a string."""
    code, text, _ = run('msgcat', '--no-wrap', path)
    joined = re.sub(r'"\n"', '', text)
    return re.findall(r'^msgid "(.+)"\nmsgstr "(.*)"$', joined, re.M)


def has_words(path):
    """Whether a C file marks words; comments do not count."""
    with open(path, encoding='utf-8') as f:
        code = re.sub(r'/\*.*?\*/|//[^\n]*', '', f.read(), flags=re.S)
    return re.search(r'\b(_|N_|words_plural)\(\s*"|\breader_fail\([^;]*?"', code) is not None


def marked_files():
    for folder in ('core', 'ui', 'app'):
        for at, _, names in os.walk(os.path.join(ROOT, folder)):
            for name in names:
                path = os.path.join(at, name)
                if name.endswith(('.c', '.h')) and has_words(path):
                    yield os.path.relpath(path, ROOT)


def placeholders(text):
    return set(re.findall(r'\{(?:[0-3](?:\.\d)?\+?|place|name|word)\}', text))


listed = lines('POTFILES')
marked = set(marked_files())
missing = sorted(marked - set(listed))
idle = sorted(f for f in listed if f.endswith(('.c', '.h')) and f not in marked)
check(not missing, 'POTFILES lists every file with words', 'missing: ' + ' '.join(missing))
check(not idle, 'POTFILES lists no other', 'without words: ' + ' '.join(idle))
check(listed == sorted(listed), 'POTFILES is in order')

with tempfile.TemporaryDirectory() as tmp:
    pot = os.path.join(tmp, 'soffit.pot')
    code, _, err = run('xgettext', '--from-code=UTF-8', '--keyword=_', '--keyword=N_', *WORDS, '--directory=' + ROOT,
                       '--files-from=' + os.path.join(PO, 'POTFILES'), '--output=' + pot, GETTEXTDATADIRS=PO)
    check(code == 0 and os.path.exists(pot), 'words can be gathered', err)
    for language in lines('LINGUAS'):
        path = os.path.join(PO, language + '.po')
        code, _, err = run('msgfmt', '--check', '--output-file=' + os.path.join(tmp, 'x.mo'), path)
        check(code == 0, language + ': format and header', err)
        code, _, err = run('msgcmp', path, pot)
        check(code == 0, language + ': no word of the sources untranslated or fuzzy', err)
        code, idle, _ = run('msgattrib', '--obsolete', '--no-wrap', path)
        check('msgid' not in idle, language + ': nothing obsolete', idle)
        pairs = entries(path)
        bad = [a for a, b in pairs if placeholders(a) != placeholders(b)]
        check(len(pairs) > 500 and not bad, language + ': the same placeholders', *bad)
        bad = [a for a, b in pairs if a[0] == ' ' != b[0] or a[-1] == ' ' != b[-1]]
        check(not bad, language + ': blanks at the ends', *bad)

code, out, err = run(CLI, '--help', LC_ALL='C.UTF-8', LANGUAGE='de')
check(code == 0 and 'Zirkonoxid' in out, 'a program in its build folder speaks German', out, err)
code, out, err = run(CLI, '--help', LC_ALL='C', LANGUAGE='de')
check(code == 0 and 'zirconia' in out, 'and English where the locale says so', out, err)
demo = os.path.join(ROOT, 'data', 'demo', 'QB-01.xml')
untimed = lambda text: re.sub(r'"seconds":[^,}]*', '', text)
english = untimed(run(CLI, 'assess', '--json', demo, LC_ALL='C')[1])
german = untimed(run(CLI, 'assess', '--json', demo, LC_ALL='C.UTF-8', LANGUAGE='de')[1])
check(english and english == german, 'JSON does not change with the language', german)
plan()
