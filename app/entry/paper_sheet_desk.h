// SPDX-License-Identifier: GPL-3.0-or-later
// A day's paper sheet as it is typed in: its rows, what each of them would record and how the count
// is judged, kept on disk at every change, and recorded row by row by the same command as in the
// Truck. Knows no widget.
#pragma once

#include "core/common/result.h"
#include "core/fieldlog/judgement.h"
#include "core/fieldlog/paper_row.h"
#include "core/inventory/valve.h"

#include <QJsonObject>

#include <optional>
#include <vector>

namespace keyround {

class Session;

struct SheetLine
{
    PaperRow row;
    VisitId recorded;  ///< null until it is
    Moment recordedAs; ///< the time of arrival that it was recorded with
    friend bool operator==(const SheetLine &, const SheetLine &) = default;
};

/// A line as it reads now.
struct CheckedSheetLine
{
    enum class State { Untouched, Sound, Refused, Recorded };
    State state = State::Untouched;
    PaperReading reading;
    std::optional<Valve> valve;
    Judgement judgement;
    bool leavesOtherThanNormal = false;

    /// The first refusal in the order of the columns; empty when there is none.
    [[nodiscard]] QString firstRefusal() const;
};

struct SheetSummary
{
    int sound = 0;
    int refused = 0;
    int untouched = 0; ///< with a valve's number: stops that nothing was typed for
    int recorded = 0;
    QStringList verdicts;       ///< "11 full", "2 short"
    QStringList leftOther;      ///< "0417 (closed)"
    QStringList refusedInWords; ///< "row 3: ..."
    [[nodiscard]] QString words() const;
};

class PaperSheetDesk
{
public:
    explicit PaperSheetDesk(Session &session) : m_session(session) {}

    /// Begins with the round's stops that have no visit yet (with none of a null round), or with
    /// what was half-typed for it. The error is what kept that from being used; the sheet is then a
    /// fresh one.
    [[nodiscard]] Status open(const RoundId &round);

    [[nodiscard]] const RoundId &round() const { return m_sheet.round; }
    [[nodiscard]] const QDate &date() const { return m_sheet.date; }
    /// Refused for a day to come.
    [[nodiscard]] Status setDate(const QDate &date);
    [[nodiscard]] const std::vector<SheetLine> &lines() const { return m_lines; }
    [[nodiscard]] const std::vector<ProblemChoice> &choices() const { return m_sheet.choices; }

    /// Keeps what is typed in memory; a blank line is added when the last one is used.
    void setText(std::size_t line, PaperColumn column, const QString &text);
    /// Puts the sheet as it stands on disk.
    [[nodiscard]] Status keep();
    /// Throws away what is typed and not recorded.
    [[nodiscard]] Status drop();

    [[nodiscard]] CheckedSheetLine check(std::size_t line) const;
    [[nodiscard]] SheetSummary summary() const;

    /// Records the line if it is sound: one visit, on disk when this returns.
    [[nodiscard]] Status record(std::size_t line);

private:
    [[nodiscard]] QString name() const;
    [[nodiscard]] QJsonObject toJson() const;
    void fromJson(const QJsonObject &json);
    void addStops();
    void addBlank();
    [[nodiscard]] Moment arrivalBefore(std::size_t line) const;
    void checkValve(std::size_t line, CheckedSheetLine &checked) const;
    [[nodiscard]] QString refusalOfValve(std::size_t line, const Valve &valve) const;

    Session &m_session;
    PaperSheet m_sheet;
    std::vector<SheetLine> m_lines;
};

/// True when a paper sheet waits half-typed in the open project.
[[nodiscard]] bool paperSheetWaits(Session &session);

} // namespace keyround
