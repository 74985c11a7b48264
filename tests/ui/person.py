# person.py - a person at the window: a display of its own, keys, what is on the screen and what is said.
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Needs xvfb-run, dbus-run-session, xdotool, import (ImageMagick) and pyatspi.  Nothing waits a fixed time: every step looks
# until what it expects is there.  To look at a test yourself: SOFFIT_TEST_PICTURES=FOLDER keeps a picture of each step that takes
# one, SOFFIT_TEST_SIZE=1100x700 sets the window, SOFFIT_TEST_LOCALE=de_DE.UTF-8 the language of tests that read by said().
import gettext
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

PATIENCE_S = 60     # for one expectation, on a slow machine under sanitizers
WINDOW = tuple(map(int, os.environ.get('SOFFIT_TEST_SIZE', '1440x900').split('x')))
LOCALE = os.environ.get('SOFFIT_TEST_LOCALE', 'C.UTF-8')


def python_with_pyatspi():
    for python in (sys.executable, '/usr/bin/python3'):
        if shutil.which(python) and subprocess.run([python, '-c', 'import pyatspi'],
                                                   stderr=subprocess.DEVNULL).returncode == 0:
            return python
    return None


def outside(script, *arguments):
    """Runs the script once more, inside of a display; 77 where a tool is missing."""
    python = python_with_pyatspi()
    missing = [tool for tool in ('xvfb-run', 'dbus-run-session', 'xdotool', 'import') if not shutil.which(tool)]
    if missing or python is None:
        print('left out, missing:', *missing, '' if python else 'pyatspi')
        return 77
    with tempfile.TemporaryDirectory() as home:  # its own, also the socket of AT-SPI: other sessions may run beside it
        places = ('HOME', 'XDG_RUNTIME_DIR', 'XDG_STATE_HOME', 'XDG_CACHE_HOME', 'XDG_CONFIG_HOME', 'XDG_DATA_HOME')
        env = {**os.environ, **{place: home for place in places}}
        number = 200 + os.getpid() % 30000  # xvfb-run looks for a free one from here: two at once do not take the same
        return subprocess.run(['dbus-run-session', '--', 'xvfb-run', '-a', '-n', str(number), '-s', '-screen 0 %dx%dx24' % WINDOW, python,
                               script, 'inside', *arguments], env=env).returncode


def look(what, find):
    """What find() returns, as soon as it is something; the test ends when it never is."""
    end = time.monotonic() + PATIENCE_S
    while True:
        began = time.monotonic()
        try:
            found = find()
        except Exception as trouble:  # the tree changes while it is read
            found, last = None, trouble
        else:
            last = None
        if found:
            return found
        if time.monotonic() > end:
            picture('trouble')
            sys.exit('not ok: %s did not come %s' % (what, last or ''))
        time.sleep(min(max(0.05, time.monotonic() - began), 0.5))  # who answers us works for what we wait for only in between


def xdo(*words):
    subprocess.run(['xdotool', *map(str, words)], check=True, timeout=PATIENCE_S)


class Window:
    def __init__(self, atspi, process):
        self.atspi, self.process = atspi, process
        self.app = look('the window in AT-SPI', self.find_app)
        self.id = look('the window on the screen', self.find_id)
        xdo('windowmove', self.id, 0, 0, 'windowsize', self.id, *WINDOW, 'windowfocus', self.id)

        self.found = {}  # pattern: what was named so last
        self.heard = []  # (role, name) of what was announced
        self.at = None   # what took the focus last
        atspi.Registry.registerEventListener(self.hear, 'object:property-change:accessible-name')
        atspi.Registry.registerEventListener(self.follow, 'object:state-changed:focused')

    def hear(self, event):
        try:
            self.heard.append((event.source.getRoleName(), event.any_data))
        except Exception:  # gone before it could be asked
            pass

    def follow(self, event):
        if event.detail1:
            self.at = event.source

    def listen(self):
        from gi.repository import GLib
        while GLib.MainContext.default().iteration(False):
            pass

    def hears(self, role, pattern):
        self.listen()
        return any(r == role and re.search(pattern, str(name)) for r, name in self.heard)

    def find_app(self):
        desktop = self.atspi.Registry.getDesktop(0)
        return next((a for a in desktop if a and a.get_process_id() == self.process.pid and a.childCount), None)

    def find_ids(self):
        return subprocess.run(['xdotool', 'search', '--onlyvisible', '--pid', str(self.process.pid)],
                              capture_output=True, text=True).stdout.split()

    def find_id(self):
        return next(iter(self.find_ids()), None)

    def shown(self, top=None):
        """Every accessible that is on the screen."""
        todo = [top or self.app]
        while todo:
            at = todo.pop()
            if at is None:
                continue
            yield at
            todo.extend(child for child in at if child and
                        (at == self.app or child.getState().contains(self.atspi.STATE_VISIBLE)))

    def named(self, pattern):
        """Asked a few times where it was before: to walk over all of the window takes hundreds of questions."""
        try:
            found = self.found[pattern]
            if re.search(pattern, found.name or '') and self.on_screen(found):
                return found
        except Exception:  # never seen, or gone
            pass
        self.found[pattern] = next((a for a in self.shown() if re.search(pattern, a.name or '')), None)
        return self.found[pattern]

    def on_screen(self, accessible):
        while accessible != self.app:
            if not accessible.getState().contains(self.atspi.STATE_VISIBLE) and accessible.parent != self.app:
                return False
            accessible = accessible.parent
        return True

    def dialog(self, title):
        """The dialog of this title, which has the keys then."""
        shown = look('the dialog ' + title, lambda: next(
            (w for w in self.app if w.name == title and w.getState().contains(self.atspi.STATE_SHOWING)), None))
        other = look('the dialog on the screen', lambda: next((i for i in self.find_ids() if i != self.id), None))
        xdo('windowfocus', '--sync', other)
        return shown

    def dialog_gone(self, title):
        look('the dialog %s gone' % title, lambda: not any(w.name == title for w in self.app))
        xdo('windowfocus', '--sync', self.id)

    def alone(self):
        """No list or dialog of it is on the screen any more: keys are the window's."""
        look('nothing above the window', lambda: len(self.find_ids()) == 1)

    def focused(self, top=None):
        """What has the focus: as it was told, else as it is found."""
        self.listen()
        try:
            if self.at and self.at.getState().contains(self.atspi.STATE_FOCUSED):
                return self.at
        except Exception:  # gone
            self.at = None
        return next((a for a in self.shown(top) if a.getState().contains(self.atspi.STATE_FOCUSED)), None)

    def tab_to(self, pattern, top=None, key='Tab', most=40):
        """By this key until what has the focus is named so."""
        for _ in range(most):
            at = look('something with the focus', lambda: self.focused(top))
            if re.search(pattern, at.name or ''):
                return at
            before = (at.name, extents(at).x, extents(at).y)
            xdo('key', key)
            end = time.monotonic() + 2
            while time.monotonic() < end:
                try:
                    now = self.focused(top)
                    if now and (now.name, extents(now).x, extents(now).y) != before:
                        break
                except Exception:
                    pass
                time.sleep(0.02)
        sys.exit('not ok: %s does not come to %s' % (key, pattern))


def extents(accessible):
    return accessible.queryComponent().getExtents(1)  # in the window, which lies at 0, 0: GTK 4 knows no others


def nameless(window, top=None, least=10):
    """Those without a name among what takes the focus; that there is much to look at is checked too.
    GTK 4.8 gives hidden pages no size, and calls rows inside of a closed drop-down and scrollers focusable."""
    focusable = [a for a in window.shown(top) if a.getState().contains(window.atspi.STATE_FOCUSABLE)
                 and a.getRoleName() not in ('filler', 'scroll pane') and extents(a).width > 0]
    check(len(focusable) >= least, 'there are things that take the focus:', len(focusable))
    return [a.getRoleName() + ' in ' + (a.parent.name or a.parent.getRoleName()) for a in focusable
            if not (a.name or '').strip() or a.name.startswith('Gtk')]


def drawing_of(window, connector):
    return window.named('^Drawing of connector %s: ' % connector)


def peak_of(window, connector):
    """MPa, once the answer is the one at rest."""
    drawing = drawing_of(window, connector)
    return int(re.search(r'(\d+) MPa', drawing.name)[1]) if drawing and window.named('at rest · ') else None


def check(good, what, *more):
    print('ok' if good else 'not ok', '-', what, *more, flush=True)
    if not good:
        sys.exit(1)


def press(accessible):
    accessible.queryAction().doAction(0)


def tap(window, name):
    """Tabs and fields have no action: a click near their left end."""
    box = look(name, lambda: next((extents(a) for a in window.shown() if a.name == name and a.getState().contains(
        window.atspi.STATE_FOCUSABLE) and extents(a).width > 0), None))
    xdo('mousemove', box.x + 20, box.y + box.height // 2, 'click', 1)


def picture(name):
    """Keeps what is on the screen, where SOFFIT_TEST_PICTURES names a folder."""
    folder = os.environ.get('SOFFIT_TEST_PICTURES')
    if folder:
        time.sleep(0.4)  # what fades in is there; nothing that is checked waits for it
        subprocess.run(['import', '-window', 'root', os.path.join(folder, name + '.png')], check=True, timeout=PATIENCE_S)


def german(folder):
    """The locale, where the machine has none of it."""
    subprocess.run(['localedef', '-i', 'de_DE', '-f', 'UTF-8', os.path.join(folder, 'de_DE.UTF-8')], capture_output=True, check=False, timeout=PATIENCE_S)
    os.environ['LOCPATH'] = folder


def said(program, msgid, whole=True):
    """A pattern for what the program says by this msgid, in the language of the test; each figure is a group."""
    folder = os.path.join(os.path.dirname(program), '..', 'po')
    words = gettext.translation('soffit', folder, [LOCALE[:2]], fallback=True).gettext(msgid).replace('%%', '%')
    pattern = re.sub(r'%(?:s|d|u|zu)', '(.*?)', re.escape(words).replace(r'\%', '%'))
    return '^' + pattern + '$' if whole else pattern


def environment():
    return {**os.environ, 'GSETTINGS_BACKEND': 'memory', 'LC_ALL': LOCALE, 'LANGUAGE': LOCALE[:2] if '_' in LOCALE else '', 'GTK_A11Y': 'atspi',
            'GDK_BACKEND': 'x11', 'GDK_DEBUG': 'gl-disable'}  # the driver for GL leaks; cairo draws


def chooses_files():
    """Of the test, before it starts the program: what the libraries of GTK's file chooser leak is known to the sanitizers by whole stacks
    only, and with those GTK's own answers to AT-SPI leak at times: memory errors are looked for, leaks by the tests in C."""
    if 'ASAN_OPTIONS' in os.environ:
        os.environ['ASAN_OPTIONS'] += ':detect_leaks=0'


def start(program, *arguments):
    return subprocess.Popen([program, *arguments], env=environment())


def quits(process, what='Ctrl+Q ends the program'):
    """Pressed again after a while: what still closes above the window may take the key."""
    def ended():
        xdo('key', 'ctrl+q')
        try:
            return process.wait(timeout=10) is not None
        except subprocess.TimeoutExpired:
            return False
    look('the end of the program', ended)
    check(process.returncode == 0, what)


def stop(process):
    """However the test ended."""
    if process.poll() is None:
        process.terminate()
        process.wait(timeout=PATIENCE_S)
