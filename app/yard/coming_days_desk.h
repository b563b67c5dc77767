// SPDX-License-Identifier: GPL-3.0-or-later
// The working days to come of all crews, as the Yard shows and changes them: a cell is one crew on
// one day, with its round and how it works out in time. Drawing up leaves alone what people were
// told; moving a valve from one day to another changes both rounds in one undo step.
#pragma once

#include "core/common/progress.h"
#include "core/common/result.h"
#include "core/dayplan/plan.h"

#include <QHash>
#include <QObject>
#include <QStringList>

#include <optional>

namespace keyround {

class Session;
struct ComingDays;

struct DayCell
{
    QString crew;
    QDate date;
    bool works = true;          ///< by the crew's weekdays and days off
    std::optional<Round> round; ///< none: nothing is planned
    DayPlan plan;
    QString trouble; ///< why there are no times
    [[nodiscard]] bool canChange() const
    {
        return round ? round->state != RoundState::Finished : works;
    }
};

struct CellAt
{
    int crew = -1; ///< row
    int day = -1;  ///< column
    [[nodiscard]] bool isValid() const { return crew >= 0 && day >= 0; }
    friend bool operator==(const CellAt &, const CellAt &) = default;
};

class ComingDaysDesk final : public QObject
{
    Q_OBJECT
public:
    static constexpr int mostDays = 60;

    explicit ComingDaysDesk(Session &session, QObject *parent = nullptr);

    [[nodiscard]] int dayCount() const { return m_dayCount; }
    void setDayCount(int count); ///< working days of each crew, from today on
    [[nodiscard]] const QStringList &crews() const { return m_crews; }
    [[nodiscard]] const QList<QDate> &dates() const { return m_dates; }
    [[nodiscard]] const DayCell &cell(const CellAt &at) const;
    [[nodiscard]] CellAt cellOf(const RoundId &round) const;
    [[nodiscard]] bool hasRounds() const;
    /// What the last drawing up left out and is still on none of the days.
    [[nodiscard]] std::vector<LeftOut> leftOut() const;
    /// "2 crews, 5 days: 61 stops · 6 h 20 driving · 4 moved · 3 left out".
    [[nodiscard]] QString sentence() const;

    /// Reads rounds and times again. Rounds that did not change keep their times.
    void refresh();
    [[nodiscard]] Status drawUp(const Progress &progress);
    /// Puts valves, wherever they are planned, onto another crew day.
    [[nodiscard]] Status move(const QList<ValveId> &valves, const CellAt &to);
    [[nodiscard]] Status setTold(const CellAt &at, bool isTold);

Q_SIGNALS:
    void changed();

private:
    struct Timed
    {
        Round round;
        DayPlan plan;
        QString trouble;
    };
    void gatherDates();
    [[nodiscard]] DayCell gatherCell(const QString &crew, const QDate &date);
    [[nodiscard]] Status refuseMove(const QList<ValveId> &valves, const DayCell &to);

    Session &m_session;
    int m_dayCount = 5;
    QStringList m_crews;
    QList<QDate> m_dates;
    std::vector<DayCell> m_cells; ///< crew after crew
    QHash<RoundId, Timed> m_timed;
    std::vector<LeftOut> m_leftOut;
    int m_moved = 0;
};

} // namespace keyround
