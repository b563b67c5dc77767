// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/learned_times_panel.h"

#include "app/commands/learn_times.h"
#include "app/dialogs/list_editor.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/dialogs/work_bar.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QVBoxLayout>

namespace keyround {

namespace {

/// Row 0 is the seconds a turn, then minutes by kind, then driving.
template <typename Times> auto &figureAt(Times &times, int row)
{
    const auto index = static_cast<std::size_t>(row);
    if (index == 0) {
        return times.secondsPerTurn;
    }
    return index <= times.stops.size() ? times.stops[index - 1].minutes
                                       : times.driving[index - 1 - times.stops.size()].factor;
}

const LearnedTimes::Minutes *minutesAt(const LearnedTimes &times, int row)
{
    const auto index = static_cast<std::size_t>(row);
    return index >= 1 && index <= times.stops.size() ? &times.stops[index - 1] : nullptr;
}

QString drivingText(const LearnedTimes::Driving &driving)
{
    const QString street = driving.street == StreetClass::Unknown ? QObject::tr("all streets")
                                                                  : wordFor(driving.street);
    return driving.hour < 0
               ? QObject::tr("Driving, %1").arg(street)
               : QObject::tr("Driving, %1, %2:00").arg(street, QString::number(driving.hour));
}

QString nameAt(const LearnedTimes &times, int row)
{
    if (row == 0) {
        return QObject::tr("Seconds a turn");
    }
    if (const auto *minutes = minutesAt(times, row)) {
        return QObject::tr("Minutes, %1").arg(wordsFor(minutes->kind));
    }
    return drivingText(times.driving[static_cast<std::size_t>(row) - 1 - times.stops.size()]);
}

double usualAt(const ProjectSettings &settings, int row)
{
    if (row == 0) {
        return settings.stopTimes.secondsPerTurn;
    }
    const auto *minutes = minutesAt(settings.learned, row);
    if (minutes == nullptr) {
        return 1.0;
    }
    const bool large = minutes->kind.size == SizeClass::From16;
    return settings.stopTimes.baseMinutes + (large ? settings.stopTimes.largeExtraMinutes : 0.0);
}

QString numberText(double value)
{
    return QString::number(value, 'g', 3);
}

std::vector<ListColumn> columns()
{
    using S = ProjectSettings;
    return {
        {QObject::tr("Of what"),
         {},
         [](const S &s, int row) { return nameAt(s.learned, row); },
         {},
         330},
        {QObject::tr("Visits"),
         {},
         [](const S &s, int row) { return QString::number(figureAt(s.learned, row).from); },
         {},
         60},
        {QObject::tr("Median"),
         {},
         [](const S &s, int row) {
             const LearnedFigure &figure = figureAt(s.learned, row);
             return figure.learned ? numberText(*figure.learned) : QObject::tr("too few");
         },
         {},
         70},
        {QObject::tr("Middle half"),
         {},
         [](const S &s, int row) {
             const LearnedFigure &figure = figureAt(s.learned, row);
             return figure.learned ? QObject::tr("%1 to %2")
                                         .arg(numberText(figure.lowerQuartile),
                                              numberText(figure.upperQuartile))
                                   : QString();
         },
         {},
         100},
        {QObject::tr("Default"),
         {},
         [](const S &s, int row) { return numberText(usualAt(s, row)); },
         {},
         70},
        {QObject::tr("Your own"), QObject::tr("as learned"),
         [](const S &s, int row) {
             const auto &set = figureAt(s.learned, row).set;
             return set ? numberText(*set) : QString();
         },
         [](S &s, int row, const QString &text) -> Status {
             LearnedFigure &figure = figureAt(s.learned, row);
             if (text.trimmed().isEmpty()) {
                 figure.set.reset();
                 return {};
             }
             const double most = row == 0 ? 120 : minutesAt(s.learned, row) != nullptr ? 600 : 20;
             return numberTyped(text, 0.05, most).map([&](double value) { figure.set = value; });
         }},
    };
}

ListSpec spec()
{
    return {QObject::tr("Times to plan with"),
            QObject::tr("figure"),
            QStringLiteral("learned"),
            {},
            columns(),
            [](const ProjectSettings &s) {
                return static_cast<int>(1 + s.learned.stops.size() + s.learned.driving.size());
            }};
}

} // namespace

LearnedTimesPanel::LearnedTimesPanel(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_figures(new ListEditor(session, spec(), this)),
      m_learn(new QPushButton(tr("Learn from finished rounds"), this)), m_work(new WorkBar(this)),
      m_refusal(plainLabel({}, QStringLiteral("refusal"), this))
{
    m_learn->setObjectName(QStringLiteral("learn"));
    m_refusal->hide();
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(12, 12, 12, 12);
    layout->setSpacing(8);
    layout->addWidget(plainLabel(
        tr("A day is planned with your own figure, else with the median of the utility's "
           "finished rounds, else, under %1 visits, with the default. Minutes are on "
           "site without turning; driving is a multiple of the streets' own speeds, and "
           "is planned with over all hours.")
            .arg(enoughObservations),
        QStringLiteral("quiet"), this));
    layout->addWidget(m_figures, 1);
    auto *row = new QHBoxLayout;
    row->addWidget(m_learn);
    row->addWidget(m_refusal, 1);
    layout->addLayout(row);
    layout->addWidget(m_work);
    m_work->hide();
    connect(m_learn, &QPushButton::clicked, this, &LearnedTimesPanel::learn);
    // What was said of the last try is settled by whatever changed since.
    connect(&session.notifier(), &Notifier::settingsChanged, m_refusal, &QLabel::hide);
    connect(&session.notifier(), &Notifier::roundsChanged, m_refusal, &QLabel::hide);
}

void LearnedTimesPanel::learn()
{
    const Status learned = m_work->run({m_figures, m_learn}, [this](const Progress &progress) {
        return learnTimesFromRounds(m_session, progress);
    });
    m_refusal->setText(learned ? QString() : learned.error().message);
    m_refusal->setVisible(!learned);
}

} // namespace keyround
