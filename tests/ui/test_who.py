#!/usr/bin/env python3
# test_who.py - "Who works here" by keys alone: a person with a signing key, and what that person's saved case tells.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test_who.py SOFFIT SOFFIT_CLI SOURCE_ROOT.  Left out (77) without the tools that person.py names.
import json
import os
import re
import stat
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from person import PATIENCE_S, Window, check, environment, look, nameless, outside, picture, quits, said, stop, xdo


def write(text):
    xdo('key', 'ctrl+a', 'type', '--delay', 20, text)


def inside(program, cli, root):
    import pyatspi

    def word(msgid, whole=True):
        return said(program, msgid, whole)

    def plain(msgid):
        return re.sub(r'\\(.)', r'\1', word(msgid)[1:-1])

    def named(top, pattern):
        return next((a for a in window.shown(top) if re.search(pattern, a.name or '')), None)

    path = os.path.join(os.environ['HOME'], 'QB-02.xml')
    with open(os.path.join(root, 'data', 'demo', 'QB-02.xml'), encoding='utf-8') as f, open(path, 'w', encoding='utf-8') as to:
        to.write(f.read())
    title = plain('Who works here')
    process = subprocess.Popen([program, path], env=environment())
    try:
        window = Window(pyatspi, process)
        look('the case', lambda: window.named('^QB-02$'))
        xdo('key', 'ctrl+u')
        dialog = window.dialog(title)
        look('the keys begin at the name', lambda: re.search(word('Name'), window.focused(dialog).name or ''))
        check(named(dialog, word('No key yet: what is saved and decided here is unsigned.')), 'no key: told as unsigned')
        window.tab_to(word('Name'), dialog)
        xdo('key', 'ctrl+a', 'BackSpace')
        window.tab_to(word('Make a signing key'), dialog)
        xdo('key', 'space')
        check(look('the message', lambda: named(dialog, word('Enter a name first: the history tells who did what.'))),
              'a key without a name is refused with words')
        window.tab_to(word('Name'), dialog, key='ISO_Left_Tab')
        write('Ann Bench')
        window.tab_to('^' + word('Role', False) + ': ', dialog)
        xdo('key', 'space', 'Down', 'Return')
        look('the role', lambda: re.search(word('supervisor', False), window.focused(dialog).name))
        window.tab_to(word('Initials'), dialog)
        write('AB')
        picture('who')
        window.tab_to(word('Make a signing key'), dialog)
        xdo('key', 'space')
        made = look('the key', lambda: named(dialog, word('Entries of %s are signed with the key %s.')))
        key_id = re.search('[0-9a-f]{16}', made.name)[0]
        check('Ann Bench' in made.name, 'the key is of the person', made.name)
        file = re.search(r'/\S*?\.key', look('where it lies', lambda: named(dialog, r'\.key')).name)[0]
        check(stat.S_IMODE(os.stat(file).st_mode) == 0o600, 'readable by its owner alone', file)
        check(not (found := nameless(window, dialog, least=6)), 'everything that takes the focus has a name', *found)
        picture('who-key')
        window.tab_to(word('Take over'), dialog)
        xdo('key', 'space')
        window.dialog_gone(title)

        # another load, saved
        xdo('key', 'ctrl+e')
        edit = window.dialog(plain('Edit case'))
        window.tab_to(word('Order’s load'), edit)
        write('650')
        window.tab_to(word('Take over'), edit)
        xdo('key', 'space')
        window.dialog_gone(plain('Edit case'))
        look('the case changed', lambda: window.named('^QB-02 •$'))
        xdo('key', 'ctrl+s')
        look('the case saved', lambda: window.named('^QB-02$'))
        p = subprocess.run([cli, 'record', '--json', path], capture_output=True, text=True, timeout=PATIENCE_S)
        lines = [json.loads(line) for line in p.stdout.splitlines()]
        entry = lines[-2]
        check(p.returncode == 0 and lines[-1]['chain'] == 'whole', 'the saved record is whole', p.stdout, p.stderr)
        check((entry['name'], entry['role'], entry['initials'], entry['key'], entry['signed']) ==
              ('Ann Bench', 'supervisor', 'AB', key_id, 'unknown key'), 'who saved it, signed', entry)
        check(entry['before'] == ['600 N'] and entry['after'] == ['650 N'], 'what changed', entry)

        # undone: the case is another one, and the record tells that too
        xdo('key', 'ctrl+z')
        look('the case changed', lambda: window.named('^QB-02 •$'))
        xdo('key', 'ctrl+s')
        look('the case saved', lambda: window.named('^QB-02$'))
        p = subprocess.run([cli, 'record', '--json', path], capture_output=True, text=True, timeout=PATIENCE_S)
        lines = [json.loads(line) for line in p.stdout.splitlines()]
        check([line['after'] for line in lines[-3:-1]] == [['650 N'], ['600 N']] and lines[-1]['chain'] == 'whole',
              'undone and saved: both stand in the record', p.stdout)
        xdo('key', 'ctrl+u')
        dialog = window.dialog(title)
        check(named(dialog, key_id), 'the key is kept')
        xdo('key', 'Escape')
        window.dialog_gone(title)
        quits(process)
    finally:
        stop(process)
    return 0


if __name__ == '__main__':
    sys.exit(inside(*sys.argv[2:5]) if sys.argv[1] == 'inside' else outside(__file__, *sys.argv[1:]))
