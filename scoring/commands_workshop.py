"""The commands of the exercise with a room: `python -m scoring workshop …`."""

import click

from scoring.command_faults import faults_to_stderr


@click.group()
def workshop():
    """Run the exercise “the same machines, other buyers” with a room."""


@workshop.command()
@click.argument("pack")
@faults_to_stderr
def check(pack):
    """Check a scenario pack: do leaders differ, firmly, with no limit on a tie?"""
    from scoring.workshop.pack_check import checked
    from scoring.workshop.pack_files import load_pack

    loaded = load_pack(pack)
    for each in checked(loaded).found:
        letter, share = loaded.letters[each.leader], each.first[each.leader]
        click.echo(f"{each.title}: {letter} leads, in {100 * share:.0f} % of draws")
    click.echo(f"{pack}: no fault")


@workshop.command()
@click.argument("folder")
@click.option("--out", required=True, help="The .zip file to write.")
@faults_to_stderr
def pack(folder, out):
    """Pack a folder of briefs, sheets and pack.yaml into one checked .zip."""
    from scoring.inputs.written import check_writable, write_bytes
    from scoring.workshop.pack_check import checked
    from scoring.workshop.pack_files import load_pack, packed

    check_writable(out, [folder])
    loaded = load_pack(folder)
    checked(loaded)
    write_bytes(out, packed(loaded))
    click.echo(out)


@workshop.command()
@click.argument("pack")
@click.option("--out", required=True, help="The folder to write into.")
@faults_to_stderr
def handouts(pack, out):
    """Write hand-outs to print and the trainer's key, as HTML."""
    from pathlib import Path

    from scoring.inputs.written import check_folder, write
    from scoring.workshop.handouts import handouts
    from scoring.workshop.pack_check import checked
    from scoring.workshop.pack_files import load_pack

    loaded = load_pack(pack)
    pages = handouts(loaded, *checked(loaded))
    check_folder(out)
    for name, html in pages.items():
        write(Path(out) / name, html)
        click.echo(Path(out) / name)


@workshop.command()
@click.option("--port", default=8501, show_default=True, help="Where it listens.")
@faults_to_stderr
def start(port):
    """Serve the page to the phones in the room, on this computer's network.

    What visitors type into the other screens is not kept.
    """
    import os
    import subprocess
    import sys
    from pathlib import Path

    from scoring.errors import ScoringError
    from scoring.workshop.address import PATH, network_address, qr_text

    address = network_address()
    if address is None:
        raise ScoringError(
            "this computer is on no network; join one, or share your own"
        )
    link = f"http://{address}:{port}/{PATH}"
    click.echo(f"{qr_text(link)}\n{link}\n")
    click.echo("Open this address here, and keep this window open. End with Ctrl+C.")
    click.echo(
        f"If phones do not get there: allow TCP port {port} in this computer's "
        "firewall, in a network you trust; all devices must be in that network."
    )
    options = {
        "--server.address": "0.0.0.0",
        "--server.port": port,
        "--server.headless": "true",
        # The one origin that browsers will name: nothing outside is asked for it.
        "--browser.serverAddress": address,
    }
    root = Path(__file__).parents[1]
    written = [str(part) for pair in options.items() for part in pair]
    command = [sys.executable, "-m", "streamlit", "run", "app.py", *written]
    told = {"MURAL_KEEP_NOTHING": "1"} | os.environ
    raise SystemExit(subprocess.run(command, cwd=root, env=told).returncode)


@workshop.command()
@click.argument("room")
@click.option("--out", required=True, help="The .xlsx file to write.")
@click.option(
    "--key",
    prompt="The trainer's key",
    hide_input=True,
    envvar="MURAL_ROOM_KEY",
    help="The trainer's key; asked for, or taken from MURAL_ROOM_KEY.",
)
@faults_to_stderr
def results(room, out, key):
    """Write the workbook of a room, by its six-letter code.

    Rooms are read from where MURAL_ROOMS says, else from your data folder.
    """
    from scoring.inputs.written import check_writable, write_bytes
    from scoring.workshop.results_of import results_workbook

    check_writable(out)
    write_bytes(out, results_workbook(room, key))
    click.echo(out)
