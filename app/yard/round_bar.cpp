// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/round_bar.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"
#include "app/yard/round_desk.h"
#include "core/inventory/value_parsers.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QPushButton>
#include <QSignalBlocker>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr int lineHeight = 32; // of one line to type into: a refusal makes its field grow below

QString yardWord()
{
    return QObject::tr("yard");
}

QString roundText(const Round &round)
{
    return QObject::tr("%1 · %2 · %3 · %n stops", nullptr, static_cast<int>(round.stops.size()))
        .arg(QLocale::c().toString(round.date, QStringLiteral("ddd yyyy-MM-dd")), round.crew,
             wordFor(round.state));
}

} // namespace

RoundBar::RoundBar(Session &session, RoundDesk &desk, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(desk)
{
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(6);
    layout->addLayout(buildRoundLine());
    m_refusal = plainLabel({}, QStringLiteral("refusal"), this);
    m_refusal->setObjectName(QStringLiteral("dayRefusal"));
    m_refusal->hide();
    layout->addLayout(buildDayLine());
    layout->addWidget(m_refusal);
    connect(&desk, &RoundDesk::changed, this, &RoundBar::refresh);
    refresh();
}

QHBoxLayout *RoundBar::buildRoundLine()
{
    auto *row = new QHBoxLayout;
    m_choice = new CalmComboBox(this);
    m_choice->setObjectName(QStringLiteral("roundChoice"));
    m_choice->setAccessibleName(tr("Round"));
    m_choice->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    m_choice->setMinimumContentsLength(30);
    connect(m_choice, &QComboBox::activated, this, [this](int index) {
        const auto id = RoundId::fromText(m_choice->itemData(index).toString());
        if (id.isNull()) {
            m_desk.startNew();
        } else {
            m_desk.choose(id);
        }
    });
    const auto button = [&](const QString &text, const QString &name, auto act) {
        auto *made = new QPushButton(text, this);
        made->setObjectName(name);
        connect(made, &QPushButton::clicked, this, act);
        return made;
    };
    auto *fresh = button(tr("New round"), QStringLiteral("newRound"), [this] {
        m_desk.startNew();
        m_date->setFocus();
        m_date->line()->selectAll();
    });
    m_drawUp = button(tr("Draw up the round"), QStringLiteral("drawUp"),
                      [this] { Q_EMIT drawUpWanted(); });
    m_drawUp->setProperty("role", QStringLiteral("primary"));
    m_drawUp->setMinimumHeight(38);
    m_bestOrder =
        button(tr("Best order"), QStringLiteral("bestOrder"), [this] { say(m_desk.bestOrder()); });
    m_gpx = button(tr("GPX..."), QStringLiteral("gpx"), [this] { Q_EMIT gpxWanted(); });
    m_radio =
        button(tr("Radio..."), QStringLiteral("radioList"), [this] { Q_EMIT radioListWanted(); });
    m_radio->setToolTip(tr("The round in plain lines that can be read over the radio"));
    m_onPaper = new QPushButton(tr("On paper"), this);
    m_onPaper->setObjectName(QStringLiteral("onPaper"));
    m_onPaper->setToolTip(tr("The day on paper, in case the laptop fails; what the truck must "
                             "carry, the work zones of the stops, notices to customers"));
    auto *papers = new QMenu(m_onPaper);
    papers->addAction(tr("The whole day..."), this, &RoundBar::packetWanted);
    papers->addAction(tr("Notices to customers..."), this, &RoundBar::noticesWanted);
    papers->addSeparator();
    auto *sheet = papers->addAction(tr("Route sheet (PDF)..."), this, &RoundBar::sheetWanted);
    sheet->setObjectName(QStringLiteral("routeSheet"));
    papers->addAction(tr("Load list (PDF)..."), this, &RoundBar::loadListWanted);
    papers->addAction(tr("Work zones (PDF)..."), this, &RoundBar::workZonesWanted);
    m_onPaper->setMenu(papers);
    auto *days = button(tr("Coming days"), QStringLiteral("comingDays"),
                        [this] { Q_EMIT comingDaysWanted(); });
    days->setToolTip(tr("All crews over the working days to come"));
    auto *policy =
        button(tr("Policy..."), QStringLiteral("policy"), [this] { Q_EMIT policyWanted(); });
    m_bestOrder->setToolTip(tr("Puts the stops into the shortest order found"));
    m_gpx->setToolTip(tr("The route for a navigator"));
    row->addWidget(m_choice, 1);
    row->addWidget(fresh);
    row->addWidget(days);
    row->addStretch(1);
    row->addWidget(m_drawUp);
    row->addWidget(m_bestOrder);
    row->addWidget(m_onPaper);
    row->addWidget(m_gpx);
    row->addWidget(m_radio);
    row->addWidget(policy);
    return row;
}

CheckedLine *RoundBar::addLine(QHBoxLayout *row, const QString &label, const QString &name,
                               int width, const QString &what, Change change)
{
    auto *line = new CheckedLine(
        what,
        [this, what, change = std::move(change)](const QString &text) -> Status {
            Round after = m_desk.round();
            Status read = change(after, text);
            return read ? m_desk.changeDay(std::move(after), tr("Change %1").arg(what)) : read;
        },
        this);
    line->setObjectName(name);
    line->setFixedWidth(width);
    line->showRefusalsIn(m_refusal);
    addLabel(row, label);
    row->addWidget(line, 0, Qt::AlignTop);
    return line;
}

void RoundBar::addLabel(QHBoxLayout *row, const QString &text)
{
    auto *label = plainCaption(text, {}, this);
    label->setFixedHeight(lineHeight);
    row->addWidget(label, 0, Qt::AlignTop);
}

QHBoxLayout *RoundBar::buildDayLine()
{
    auto *row = new QHBoxLayout;
    m_date = addLine(row, tr("Date"), QStringLiteral("date"), 106, tr("the date"),
                     [](Round &round, const QString &text) -> Status {
                         const auto date = parseDate(text, std::nullopt);
                         if (!date || !*date) {
                             return fail(ErrorCode::BadInput,
                                         tr("\"%1\" is no date. Write year, month and day: "
                                            "2026-03-16.")
                                             .arg(text.trimmed()));
                         }
                         round.date = **date;
                         return {};
                     });
    addLabel(row, tr("Crew"));
    m_crew = new CalmComboBox(this);
    m_crew->setObjectName(QStringLiteral("crew"));
    m_crew->setAccessibleName(tr("Crew"));
    m_crew->setFixedWidth(130);
    connect(m_crew, &QComboBox::activated, this, [this] {
        Round after = m_desk.round();
        after.crew = m_crew->currentText();
        say(m_desk.changeDay(std::move(after), tr("Change the crew")));
    });
    row->addWidget(m_crew, 0, Qt::AlignTop);
    const auto readTime = [](QTime &time, const QString &text) -> Status {
        const Result<QTime> read = timeTyped(text);
        if (!read) {
            return tl::unexpected<Error>(read.error());
        }
        time = *read;
        return {};
    };
    m_from = addLine(
        row, tr("Shift"), QStringLiteral("shiftFrom"), 62, tr("the shift's begin"),
        [readTime](Round &round, const QString &text) { return readTime(round.shift.from, text); });
    m_to = addLine(
        row, tr("to"), QStringLiteral("shiftTo"), 62, tr("the shift's end"),
        [readTime](Round &round, const QString &text) { return readTime(round.shift.to, text); });
    addPlace(row, End::Start);
    addPlace(row, End::Finish);
    row->addStretch(1);
    return row;
}

void RoundBar::addPlace(QHBoxLayout *row, End end)
{
    const bool isStart = end == End::Start;
    auto *line = addLine(row, isStart ? tr("Start") : tr("Finish"),
                         isStart ? QStringLiteral("start") : QStringLiteral("finish"), 176,
                         isStart ? tr("the start") : tr("the finish"),
                         [this, isStart](Round &round, const QString &text) -> Status {
                             const Result<GeoPoint> place = endTyped(text);
                             if (!place) {
                                 return tl::unexpected<Error>(place.error());
                             }
                             (isStart ? round.start : round.finish) = *place;
                             return {};
                         });
    line->line()->setPlaceholderText(tr("yard, or latitude, longitude"));
    auto *button = new QToolButton(this);
    button->setText(tr("From map"));
    button->setFixedHeight(lineHeight);
    button->setCheckable(true);
    button->setToolTip(tr("The next click on the map sets the place"));
    button->setAccessibleName(isStart ? tr("Take the start from the map")
                                      : tr("Take the finish from the map"));
    connect(button, &QToolButton::clicked, this,
            [this, end](bool on) { wantEnd(on ? end : End::None); });
    row->addWidget(button, 0, Qt::AlignTop);
    (isStart ? m_start : m_finish) = line;
    (isStart ? m_startFromMap : m_finishFromMap) = button;
}

void RoundBar::wantEnd(End end)
{
    m_endWanted = end;
    m_startFromMap->setChecked(end == End::Start);
    m_finishFromMap->setChecked(end == End::Finish);
    Q_EMIT endWantedChanged();
}

void RoundBar::takePlace(const GeoPoint &place)
{
    Round after = m_desk.round();
    const bool isStart = m_endWanted == End::Start;
    if (m_endWanted == End::None) {
        return;
    }
    (isStart ? after.start : after.finish) = place;
    wantEnd(End::None);
    say(m_desk.changeDay(std::move(after),
                         isStart ? tr("Change the start") : tr("Change the finish")));
}

Result<GeoPoint> RoundBar::endTyped(const QString &text) const
{
    if (text.trimmed().compare(yardWord(), Qt::CaseInsensitive) != 0) {
        return placeTyped(text);
    }
    const std::optional<GeoPoint> &yard = m_session.settings().yard;
    if (!yard) {
        return fail(ErrorCode::NotFound, tr("The project does not know yet where the yard is."));
    }
    return *yard;
}

QString RoundBar::endText(const GeoPoint &place) const
{
    return m_session.settings().yard == place ? yardWord() : placeText(place);
}

void RoundBar::say(const Status &status)
{
    if (!status) {
        Q_EMIT m_session.notifier().failed(status.error().message);
    }
    refresh();
}

void RoundBar::refreshChoice()
{
    const QSignalBlocker quiet(m_choice);
    m_choice->clear();
    if (!m_desk.isStored()) {
        m_choice->addItem(tr("New round, not stored before it has a stop"), QString());
    }
    for (const Round &round : m_session.rounds()) {
        m_choice->addItem(roundText(round), round.id.text());
    }
    const int index = m_choice->findData(m_desk.isStored() ? m_desk.round().id.text() : QString());
    m_choice->setCurrentIndex(std::max(0, index));
    m_choice->setToolTip(
        tr("%n rounds in the project", nullptr, static_cast<int>(m_session.rounds().size())));
}

void RoundBar::refresh()
{
    refreshChoice();
    const Round &round = m_desk.round();
    m_date->setStored(round.date.toString(Qt::ISODate));
    m_from->setStored(timeText(round.shift.from));
    m_to->setStored(timeText(round.shift.to));
    m_start->setStored(endText(round.start));
    m_finish->setStored(endText(round.finish));
    QStringList crews = crewNames(m_session.settings());
    if (!round.crew.isEmpty() && !crews.contains(round.crew)) {
        crews << round.crew;
    }
    const QSignalBlocker quiet(m_crew);
    m_crew->clear();
    m_crew->addItems(crews);
    m_crew->setCurrentIndex(static_cast<int>(crews.indexOf(round.crew)));

    const bool canChange = m_desk.canChange();
    for (QWidget *widget : std::initializer_list<QWidget *>{
             m_date, m_crew, m_from, m_to, m_start, m_finish, m_startFromMap, m_finishFromMap}) {
        widget->setEnabled(canChange);
    }
    m_drawUp->setEnabled(m_desk.canOrder());
    m_bestOrder->setEnabled(m_desk.canOrder() && round.stops.size() > 1);
    m_gpx->setEnabled(m_desk.isStored() && !round.stops.empty());
    m_onPaper->setEnabled(m_desk.isStored() && !round.stops.empty());
    m_radio->setEnabled(!round.stops.empty());
}

} // namespace keyround
