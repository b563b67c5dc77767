// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/drop_point_page.h"

#include "app/commands/field_report_commands.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/position/position_feed.h"
#include "app/truck/turns_line.h"
#include "core/inventory/value_parsers.h"

#include <QGridLayout>
#include <QKeyEvent>
#include <QLineEdit>

namespace keyround {

namespace {

/// Where the crew stands now: a log that is played tells where some truck was once.
std::optional<PositionFix> pointNow(const PositionFeed &feed)
{
    const auto fix = feed.current();
    return fix && fix->source != FixSource::Log ? fix : std::nullopt;
}

} // namespace

DropPointPage::DropPointPage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_place(truckLabel(this)), m_number(new QLineEdit(this)),
      m_size(new QLineEdit(this)), m_words(new QLineEdit(this)), m_refusal(truckLabel(this)),
      m_report(new BigButton(BigButton::Kind::Primary, tr("Report it to the office"), this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Back"), this))
{
    const int gap = TruckScale::of(this).gap;
    auto *title = truckLabel(this, TextSize::Title, true);
    title->setText(tr("A valve that is on no list"));
    auto *lines = new QGridLayout;
    lines->setSpacing(gap);
    const auto addLine = [&](int row, const QString &words, const char *name, QLineEdit *edit,
                             int columns = 1) {
        auto *label = truckLabel(this, TextSize::Normal, true);
        label->setText(words);
        label->setBuddy(edit);
        edit->setObjectName(QLatin1String(name));
        edit->setAccessibleName(words);
        lines->addWidget(label, row, 0);
        lines->addWidget(edit, row, 1, 1, columns);
    };
    addLine(0, tr("Number marked on it"), "drop-number", m_number);
    addLine(1, tr("What is known: lid, nut, near what"), "drop-words", m_words, 2);
    m_size->setObjectName(QStringLiteral("drop-size"));
    m_size->setAccessibleName(tr("Size, if it is known"));
    lines->addWidget(m_size, 0, 2);
    m_size->setPlaceholderText(tr("Size"));
    lines->setColumnStretch(0, 2);
    lines->setColumnStretch(1, 3);
    lines->setColumnStretch(2, 1);
    m_place->setObjectName(QStringLiteral("drop-place"));
    m_refusal->setObjectName(QStringLiteral("drop-refusal"));
    m_report->setObjectName(QStringLiteral("drop-report"));
    m_report->setTextPixels(TruckScale::of(this).title);
    m_back->setObjectName(QStringLiteral("drop-back"));
    m_back->setHint(tr("Esc"));
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(m_back, 2);
    foot->addWidget(m_report, 5);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap * 2, gap, gap * 2, gap);
    layout->setSpacing(gap);
    layout->addWidget(title);
    layout->addWidget(m_place);
    layout->addLayout(lines);
    layout->addWidget(m_refusal);
    layout->addStretch();
    layout->addLayout(foot);
    connect(m_words, &QLineEdit::returnPressed, this, &DropPointPage::report);
    connect(m_report, &QAbstractButton::clicked, this, &DropPointPage::report);
    connect(m_back, &QAbstractButton::clicked, this, &DropPointPage::done);
    connect(&session.positions(), &PositionFeed::changed, this, [this] {
        if (isVisible()) {
            refreshPlace();
        }
    });
}

void DropPointPage::load(const RoundId &round)
{
    m_round = round;
    for (QLineEdit *line : {m_number, m_size, m_words}) {
        line->clear();
        setRefused(line, false);
    }
    setNote(m_refusal, NoteKind::Danger, {});
    refreshPlace();
}

void DropPointPage::refreshPlace()
{
    const PositionFeed &feed = m_session.positions();
    const auto fix = pointNow(feed);
    setNote(m_place, fix ? NoteKind::Quiet : NoteKind::Attention,
            fix ? tr("Stand over the lid. The point: %1, %2 (%3)")
                      .arg(fix->place.latitude, 0, 'f', 6)
                      .arg(fix->place.longitude, 0, 'f', 6)
                      .arg(feed.words(m_session.units()))
                : tr("There is no current position to drop a point at: %1. Start the receiver, or "
                     "write the place down for the office.")
                      .arg(feed.words(m_session.units())));
    m_report->setEnabled(fix.has_value());
}

void DropPointPage::report()
{
    const auto fix = pointNow(m_session.positions());
    if (!fix) {
        refreshPlace();
        return;
    }
    const auto size = parseSize(m_size->text());
    setRefused(m_size, !size.has_value());
    if (!size) {
        setNote(m_refusal, NoteKind::Danger, size.error().message);
        return;
    }
    ValveCandidate candidate;
    candidate.place = fix->place;
    candidate.evidence = evidenceOf(*fix);
    candidate.number = m_number->text().trimmed();
    candidate.size = size->value_or(NominalSize{});
    candidate.words = m_words->text().trimmed();
    candidate.round = m_round;
    const auto reported = reportCandidate(m_session, std::move(candidate));
    if (!reported) {
        setNote(m_refusal, NoteKind::Danger, reported.error().message);
        return;
    }
    Q_EMIT m_session.notifier().said(
        tr("The valve is reported to the office with its place. It becomes a stop once they accept "
           "it."));
    Q_EMIT done();
}

void DropPointPage::focusField()
{
    m_number->setFocus();
}

void DropPointPage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape && !event->isAutoRepeat()) {
        Q_EMIT done();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
