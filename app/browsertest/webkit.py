#!/usr/bin/python3
"""A window around WebKitGTK that a driver opens and that keeps what it is told to keep.

webkit.py PROFILE PROXY: PROFILE is the folder it keeps it in, PROXY the way to every
host but this machine. It ends when its last window is closed, or without the
driver that started it. webkit.go starts it.
"""
import os
import signal
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2

profile, proxy = sys.argv[1:3]
data = WebKit2.WebsiteDataManager(base_data_directory=profile + "/data", base_cache_directory=profile + "/cache")
data.set_network_proxy_settings(
    WebKit2.NetworkProxyMode.CUSTOM, WebKit2.NetworkProxySettings.new(proxy, ["127.0.0.1", "localhost"]))
context = WebKit2.WebContext(website_data_manager=data)
context.set_preferred_languages(["en-US"])  # as the other engines: units follow the language
windows = []


def closed(window):
    windows.remove(window)
    if not windows:
        Gtk.main_quit()


def open_window(_):
    view = WebKit2.WebView(
        web_context=context, is_controlled_by_automation=True,
        settings=WebKit2.Settings(enable_write_console_messages_to_stdout=True))
    window = Gtk.Window(default_width=1280, default_height=800)
    window.add(view)
    window.connect("destroy", closed)
    view.connect("close", lambda _: window.destroy())
    windows.append(window)
    window.show_all()
    return view


def started(_, session):
    info = WebKit2.ApplicationInfo()
    info.set_name("WebKitGTK")
    info.set_version(WebKit2.get_major_version(), WebKit2.get_minor_version(), WebKit2.get_micro_version())
    session.set_application_info(info)
    session.connect("create-web-view", open_window)


def orphaned():
    if os.getppid() != driver:
        Gtk.main_quit()
    return True


def prefer(dark):
    Gtk.Settings.get_default().set_property("gtk-application-prefer-dark-theme", dark)
    return True


# What a driver has no word for: the device prefers dark, or light.
GLib.unix_signal_add(GLib.PRIORITY_DEFAULT, signal.SIGUSR1, prefer, True)
GLib.unix_signal_add(GLib.PRIORITY_DEFAULT, signal.SIGUSR2, prefer, False)
with open(profile + "/pid", "w") as note:
    note.write(str(os.getpid()))

driver = os.getppid()
GLib.timeout_add_seconds(1, orphaned)
context.connect("automation-started", started)
context.set_automation_allowed(True)
Gtk.main()
