"""The doors of the site: every address, what it is about, and who may do what there.

A line is a name of the URLconf, the row of the world that it is about (`-` for none), and the
answers to GET and to POST by role; what the letters say stands in `tests/test_access_table.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Door:
    """An address: its URL name, the row of the world it is about, the answers by role."""

    name: str
    row: str
    get: str
    post: str


def rows_of(table: str) -> Iterator[Door]:
    """Yield the doors of a table written as lines of `name row GET POST`; `-` for no row."""
    for line in table.strip().splitlines():
        name, row, get, post = line.split()
        yield Door(name=name, row="" if row == "-" else row, get=get, post=post)


TABLE = tuple(
    rows_of("""
    job-list           -         rkkkkk  mmmmmm
    sign-in            -         krrrrr  krrrrr
    sign-out           -         mmmmmm  rrrrrr
    help               -         kkkkkk  mmmmmm
    treatments         -         kkkkkk  mmmmmm
    healthz            -         kkkkkk  mmmmmm
    readyz             -         kkkkkk  mmmmmm
    company            -         rkfffk  rufffu
    company-setup      -         rkfffk  rufffu
    backup-list        -         rkfffk  mmmmmm
    backup-make        -         mmmmmm  rrfffr
    backup-progress    -         rrfffr  mmmmmm
    audit-list         -         rkfffk  mmmmmm
    keeping            -         rkfffk  rufffu
    client-data        client    rnfffk  mmmmmm
    client-data-file   client    mmmmmm  rnfffk
    session-list       -         rkkkkk  mmmmmm
    session-end        session   mmmmmm  rnnnnr
    session-end-others -         mmmmmm  rrrrrr
    person-sessions    person    rnfffk  mmmmmm
    company-logo       logo      rnkkkk  mmmmmm
    state-notice       notice    rnfffk  rnfffu
    notice-remove      notice    rnfffk  rnfffr
    person-add         -         rkfffk  rufffu
    person-edit        person    rnfffk  rnfffu
    person-link        person    mmmmmm  rnfffk
    own-password       -         rkkkkk  ruuuuu
    password-lost      -         kkkkkk  uuuuuu
    password-set       password  nnnnnn  nnnnnn
    crew-list          -         rkffkk  mmmmmm
    crew-add           -         rkffkk  ruffuu
    crew-edit          crew      rnffkk  rnffuu
    crew-leaving       crew      rnffkk  rnffuu
    client-list        -         rkffkk  mmmmmm
    client-add         -         rkffkk  ruffuu
    client-edit        client    rnffkk  rnffuu
    job-add            -         rkffkk  ruffuu
    job                job       rnnkkk  mmmmmm
    job-edit           job       rnnfkk  rnnfuu
    job-payer          job       rnnfkk  rnnfuu
    job-supplied       job       rnnkkk  rnnfuu
    supplied-count     supplied  rnnkkk  rnnuuu
    receipt-remove     receipt   rnnfkk  rnnfrn
    paid-trip          job       mmmmmm  rnnfrr
    site-edit          job       rnnfkk  rnnfuu
    moisture           job       rnffkk  rnffuu
    moisture-remove    reading   mmmmmm  rnffrr
    room-before        room      rnffkk  rnffuu
    room-depths        room      rnffkk  rnffuu
    hold-clear         hold      rnnfkk  rnnfuu
    product-list       -         rkffkk  mmmmmm
    product-add        -         rkffkk  ruffuu
    product-edit       product   rnffkk  rnffuu
    product-step       step      rnffkk  rnffuu
    product-sheet      product   rnffkk  mmmmmm
    room-list          job       rnffkk  mmmmmm
    room-add           job       rnffkk  rnffuu
    room-edit          room      rnffkk  rnffuu
    room-floor         loose     mmmmmm  rnffrr
    doorway-add        room      rnffkk  rnffuu
    doorway-edit       doorway   rnffkk  rnffuu
    zone-list          job       rnnkkk  mmmmmm
    zone-add           job       rnffkk  rnffuu
    zone               zone      rnnkkk  mmmmmm
    zone-edit          zone      rnffkk  rnffuu
    zone-place         zone      rnffkk  rnffuu
    zone-rules         zone      rnffkk  rnffuu
    zone-break         zone      mmmmmm  rnffnn
    zone-going-on      zone      rnffkk  rnffuu
    zone-piles         zone      rnnkkk  rnnuuu
    zone-plan          zone      mmmmmm  rnffrr
    zone-progress      zone      rnnrrr  mmmmmm
    zone-stop          zone      mmmmmm  rnffrr
    zone-compare       zone      rnffkk  rnffuu
    zone-compare-stop  zone      mmmmmm  rnffrr
    zone-take          zone      mmmmmm  rnffrr
    zone-spend         zone      rnffkk  rnffrr
    zone-spend-take    zone      mmmmmm  rnffrr
    plan               plan      rnnkkk  mmmmmm
    plan-drawing       plan      rnnkkk  mmmmmm
    plan-cuts          plan      rnnkkk  mmmmmm
    plan-file          plan      rnnkkk  mmmmmm
    plan-request       plan      rnnkkk  mmmmmm
    ballpark           -         rkffkk  ruffuu
    ballpark-kept      ballpark  rnffkk  mmmmmm
    ballpark-start     ballpark  rnffkk  rnffuu
    price-list         -         rkffkk  mmmmmm
    price-set          -         rkffkk  ruffuu
    price-import       -         rkffkk  ruffuu
    price-preview      list      rnffkk  rnffuu
    price-import-progress  list  rnffrr  mmmmmm
    price-export       -         rkffkk  mmmmmm
    price-answer       -         mmmmmm  ruffuu
    price-row          price     rnffkk  rnffuu
    price-terms        -         rkfffk  rufffu
    rate-card          -         rkffkk  mmmmmm
    card-rate          card      rkffkk  ruffuu
    payer-prices       client    rnffkk  mmmmmm
    payer-price        unitprice rnffkk  rnffuu
    price-method       job       rnnfkk  rnnfuu
    job-price          job       rnnfkk  rnnfuu
    price-adjust       job       mmmmmm  rnnfuu
    price-tax          job       mmmmmm  rnnfuu
    price-line-add     job       mmmmmm  rnnfuu
    price-here         job       mmmmmm  rnnfnn
    rate-here          job       mmmmmm  rnnfnn
    price-line         line      mmmmmm  rnffuu
    job-allowances     job       rnnfkk  mmmmmm
    allowance-add      job       mmmmmm  rnnfuu
    allowance-offer    offer     mmmmmm  rnnfuu
    allowance          allowance  mmmmmm  rnffuu
    estimate           estimate  rnffkk  mmmmmm
    job-quotes         job       rnnfkk  mmmmmm
    quote-draft        job       rnnfkk  rnnfuu
    quote-preview      job       rnnfkk  mmmmmm
    quote-preview-file job       rnnfkk  mmmmmm
    quote-issue-draft  job       mmmmmm  rnnfrr
    quote              quote     rnffkk  mmmmmm
    quote-accept       quote     mmmmmm  rnffuu
    quote-file         quote     rnffkk  mmmmmm
    quote-withdraw     quote     mmmmmm  rnffrr
    quote-public       token     kkkkkk  uuuuuu
    quote-public-file  token     kkkkkk  mmmmmm
    quote-public-seen  token     mmmmmm  kkkkkk
    quote-public-days  token     kkkkkk  mmmmmm
    quote-public-home  token     kkkkkk  mmmmmm
    quote-mail         quote     mmmmmm  rnffuu
    quote-texted       quote     mmmmmm  rnffuu
    quote-answer       event     mmmmmm  rnffuu
    quote-noted        event     mmmmmm  rnffrr
    quote-link-until   quote     mmmmmm  rnffuu
    quote-link-renew   quote     mmmmmm  rnffrr
    mail-again         mail      mmmmmm  rnffrr
    mail-noted         mail      mmmmmm  rnffrr
    rate-list          -         rkffkk  mmmmmm
    rate-set           -         rkffkk  ruffuu
    job-options        job       rnnfkk  mmmmmm
    option-take        job       mmmmmm  rnnfuu
    option-plan        job       mmmmmm  rnnfuu
    job-work-split     job       rnnfkk  rnnfuu
    job-changes        job       rnnfkk  rnnfuu
    change-add         job       rnnfkk  rnnfuu
    change-draft       change-draft  rnffkk  rnffuu
    change-line-add    change-draft  mmmmmm  rnffuu
    change-line-remove  change-line  mmmmmm  rnffrr
    change-send        change-draft  mmmmmm  rnffuu
    change-offer       change-offer  rnffkk  mmmmmm
    change-mail        change-offer  mmmmmm  rnffuu
    change-noted       change-offer  mmmmmm  rnffrr
    change-texted      change-offer  mmmmmm  rnffuu
    change-accept      change-offer  mmmmmm  rnffuu
    change-file        change-offer  rnffkk  mmmmmm
    change-public      change-token  kkkkkk  uuuuuu
    change-public-file  change-token  kkkkkk  mmmmmm
    change-public-photo  change-token  kkkkkk  mmmmmm
    change-decline     change-token  mmmmmm  rrrrrr
    change-withdraw    change-offer  mmmmmm  rnffrr
    change-relink      change-offer  mmmmmm  rnffrr
    change-drop        change-draft  rnffkk  rnffrn
    job-invoices       job       rnnfkk  rnnfuu
    invoice-list       -         rkffkk  mmmmmm
    invoices-export    -         rkffkk  mmmmmm
    invoice            invoice   rnffkk  mmmmmm
    invoice-file       invoice   rnffkk  mmmmmm
    invoice-mail       invoice   mmmmmm  rnffuu
    invoice-void       invoice   rnffkk  rnffuu
    payment-add        invoice   rnffkk  rnffuu
    payment-back       payment   rnffkk  rnffuu
    completion-slip    job       rnnkkk  rnnuuu
    completion-paper   job       rnnnnn  mmmmmm
    completion-file    slip      rnnkkk  mmmmmm
    job-passport       job       rnnfkk  mmmmmm
    passport-open      job       mmmmmm  rnnfuu
    passport-correct   passport  mmmmmm  rnffuu
    passport-revoke    passport  mmmmmm  rnffrr
    passport-leftovers  passport  mmmmmm  rnffrr
    passport-public    passport-token  kkkkkk  mmmmmm
    purchase-list      job       rnnfkk  mmmmmm
    purchase-add       job       rnnfkk  rnnfuu
    purchase-edit      purchase  rnffkk  rnffuu
    job-review         job       rnnfkk  mmmmmm
    job-close          job       mmmmmm  rnnfrr
    job-reopen         job       mmmmmm  rnnfrr
    rates-learned      -         rkffkk  ruffuu
    rates-undo         taking    mmmmmm  rnffrr
    reviews            -         rkffkk  mmmmmm
    purchase-receipt   purchase  rnffkk  mmmmmm
    callback-add       job       rnnfkk  rnnfuu
    callback           callback  rnffkk  rnffuu
    log-corrections    job       rnnfkk  mmmmmm
    log-correct        entry     rnnfkk  rnnfuu
    stock-list         -         rkffkk  mmmmmm
    stock-take         stocked   mmmmmm  rnnfrr
    stock-back         stocked   mmmmmm  rnnfrr
    rate-remove        rate      mmmmmm  rnffrn
    purchase-remove    purchase  rnffkk  rnffrn
    day-list           -         rkkkkk  mmmmmm
    day                day       rnnkkk  mmmmmm
    today              -         rkkkkk  mmmmmm
    day-lost           day       rnnfkk  rnnfuu
    day-move           day       rnnfkk  rnnfuu
    day-hold           day       rnnfkk  rnnfuu
    day-split          day       rnnfkk  rnnfuu
    days-undo          change    mmmmmm  rnffrr
    log-seal           -         rkkkkk  mmmmmm
    log-worker         -         kkkkkk  mmmmmm
    log-add            day       rnnkkk  rnnuuu
    log-photo          entry     rnnkkk  mmmmmm
    log-shot           shot      rnnkkk  mmmmmm
    log-hours          entry     rnnkkk  rnnuuu
    hold-let-go        hold      rnnffk  rnnffu
    board              -         rkffkk  mmmmmm
    board-keep         -         mmmmmm  ruffuu
    board-take-up      kept      mmmmmm  rnffrn
    feed               word      kkkkkk  mmmmmm
    feed-list          -         rkkkkk  mmmmmm
    feed-person        -         mmmmmm  rrrrrr
    feed-crew          crew      mmmmmm  rnfffr
    feed-revoke        feed      mmmmmm  rnnrnr
    crew-calendar      crew      rnnkkk  mmmmmm
    job-days           job       rnnkkk  rnnfuu
    job-log            job       rnnkkk  mmmmmm
    job-nights         job       rnffkk  rnffuu
    job-pencil         job       rnffkk  rnffuu
    pencil-price       job       mmmmmm  rnffrr
    pencil-out         job       mmmmmm  rnffrr
    extra-ask          job       rnnkkk  rnnuuu
    extra-photo        extra     rnnkkk  mmmmmm
    extra-drop         extra     rnnkkk  rnnrnn
    packet-list        job       rnnkkk  mmmmmm
    packet-print       job       mmmmmm  rnffuu
    packet-progress    job       rnnrrr  mmmmmm
    packet-stop        job       mmmmmm  rnffrr
    packet-file        packet    rnnkkk  mmmmmm
    packet-changed     packet    rnnkkk  mmmmmm
    log-remove         entry     rnnkkk  rnnrnn
    stair-add          job       rnffkk  rnffuu
    stair-edit         stair     rnffkk  rnffuu
    job-trim           job       rnffkk  rnffuu
    room-trim          room      rnffkk  mmmmmm
    trim-run-add       room      rnffkk  rnffuu
    trim-run           run       rnffkk  rnffuu
    trim-run-derive    run       mmmmmm  rnffrn
    search             -         rkkkkk  mmmmmm
    job-copy           job       rnffkk  rnffuu
    room-copy          room      rnffkk  rnffuu
    zone-copy          zone      rnffkk  rnffuu
    room-notes         room      rnffkk  rnffuu
    room-note          note      rnffkk  rnffuu
    room-note-photo    note      rnnkkk  mmmmmm
    job-archive        job       mmmmmm  rnnfrr
    job-unarchive      job       mmmmmm  rnnfrr
    job-remove         job       rnnfkk  rnnfuu
    client-remove      client    rnffkk  rnffuu
    product-remove     product   rnffkk  rnffuu
    removed-list       -         rkffkk  mmmmmm
    removed-restore    removal   mmmmmm  rnffrr
    room-note-remove   note      rnffkk  rnffrn
    doorway-remove     doorway   rnffkk  rnffrn
    stair-remove       stair     rnffkk  rnffrn
    zone-remove        zone      rnffkk  rnffrn
    room-remove        loose     rnffkk  rnffrn
    client-erase       client    rnfffk  rnfffu
    person-sessions-end person   mmmmmm  rnfffr
    """)
)
