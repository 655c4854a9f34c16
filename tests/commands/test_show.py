"""net3d show: a net's finished page, built anew where what it is made of is newer."""

import os


def test_show_builds_when_the_spec_is_newer(run, spec):
    page = spec.parent / "outputs" / "small" / "page.html"
    show = ("show", spec.name, "--no-browser")
    assert "Written to" in run(*show).out
    built = page.stat().st_mtime_ns
    assert run(*show).out.split() == [str(page.relative_to(spec.parent))]
    assert page.stat().st_mtime_ns == built
    later = page.stat().st_mtime + 10
    os.utime(spec, (later, later))
    assert "Written to" in run(*show).out
    assert page.stat().st_mtime_ns > built
    shop = spec.with_name("shop.toml")
    shop.write_text('units = "in"\n', "utf-8")
    os.utime(shop, (later + 10, later + 10))
    assert "Written to" in run(*show).out


def test_show_opens_the_page(run, spec, monkeypatch):
    opened = []
    monkeypatch.setattr("webbrowser.open", lambda address: opened.append(address) or True)
    run("show", spec.name)
    assert opened == [(spec.parent / "outputs/small/page.html").as_uri()]


def test_a_command_that_another_took_over_is_told_with_it(run, spec):
    ended = run("watch", spec.name)
    assert ended.code == 2
    assert "No such command 'watch'. Did you mean 'open'?" in ended.err
