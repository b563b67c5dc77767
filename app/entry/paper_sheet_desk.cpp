// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/entry/paper_sheet_desk.h"

#include "app/commands/visit_commands.h"
#include "app/shell/session.h"
#include "core/storage/half_typed_store.h"

#include <QJsonArray>
#include <QMap>

#include <algorithm>

namespace keyround {

namespace {

const QString namePrefix = QStringLiteral("paper sheet");
const QString rowsKey = QStringLiteral("rows");
const QString dateKey = QStringLiteral("date");
constexpr std::size_t blankLines = 3;
constexpr std::size_t mostLines = 400;

QStringList ownProblemWords(const ProjectSettings &settings)
{
    QStringList words;
    for (const OwnProblem &own : settings.truckHabits.ownProblems) {
        if (own.inUse) {
            words << own.words;
        }
    }
    return words;
}

} // namespace

QString CheckedSheetLine::firstRefusal() const
{
    if (reading.refusals.isEmpty()) {
        return {};
    }
    return QObject::tr("%1: %2").arg(wordFor(reading.refusals.firstKey()),
                                     reading.refusals.first());
}

QString SheetSummary::words() const
{
    QStringList parts;
    parts << (sound == 0 ? QObject::tr("Nothing to record so far.")
                         : QObject::tr("Visits to record: %1 (%2).")
                               .arg(sound)
                               .arg(verdicts.join(QStringLiteral(", "))));
    if (!leftOther.isEmpty()) {
        parts << QObject::tr("LEFT OTHER THAN NORMAL: valve %1.")
                     .arg(leftOther.join(QStringLiteral(", ")));
    }
    if (refused > 0) {
        parts << QObject::tr("Rows that cannot be recorded as they stand: %1 (%2).")
                     .arg(refused)
                     .arg(refusedInWords.join(QStringLiteral("; ")));
    }
    if (untouched > 0) {
        parts << QObject::tr("Stops with nothing typed: %1.").arg(untouched);
    }
    if (recorded > 0) {
        parts << QObject::tr("%n recorded already.", nullptr, recorded);
    }
    return parts.join(QLatin1Char(' '));
}

Status PaperSheetDesk::open(const RoundId &round)
{
    m_sheet = PaperSheet{};
    m_lines.clear();
    m_sheet.round = round;
    m_sheet.date = m_session.today();
    m_sheet.offsetSeconds = m_session.now().offsetSeconds;
    m_sheet.crew = crewNames(m_session.settings()).value(0);
    m_sheet.firstTime = m_session.settings().shift.from;
    m_sheet.choices = problemChoices(ownProblemWords(m_session.settings()));
    if (const Round *day = m_session.round(round)) {
        m_sheet.date = day->date;
        m_sheet.crew = day->crew;
        m_sheet.firstTime = day->shift.from;
    }
    const auto kept = m_session.project().halfTyped().load(name());
    if (kept && *kept) {
        fromJson((*kept)->content);
    } else {
        addStops();
    }
    while (m_lines.size() < blankLines || m_lines[m_lines.size() - blankLines].row != PaperRow{}) {
        addBlank();
    }
    return kept ? Status{} : Status(tl::unexpected(kept.error()));
}

void PaperSheetDesk::addStops()
{
    const Round *day = m_session.round(m_sheet.round);
    if (day == nullptr) {
        return;
    }
    for (const ValveId &id : Round(*day).stops) {
        const Valve *valve = m_session.valve(id);
        const auto &visits = m_session.history(id).visits;
        const bool isDone = std::ranges::any_of(
            visits, [&](const ReadVisit &read) { return read.visit.round == m_sheet.round; });
        if (valve != nullptr && !isDone) {
            SheetLine line;
            line.row.texts[0] = valve->number;
            m_lines.push_back(std::move(line));
        }
    }
}

void PaperSheetDesk::addBlank()
{
    m_lines.emplace_back();
}

Status PaperSheetDesk::setDate(const QDate &date)
{
    if (!date.isValid() || date > m_session.now().localDate()) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("A sheet is of a day that was: type it as 2026-03-16, today or "
                                "before."));
    }
    m_sheet.date = date;
    return {};
}

void PaperSheetDesk::setText(std::size_t line, PaperColumn column, const QString &text)
{
    if (!m_lines.at(line).recorded.isNull()) {
        return;
    }
    m_lines[line].row.texts.at(std::size_t(column)) = text;
    if (line + 1 == m_lines.size() && m_lines.size() < mostLines) {
        addBlank();
    }
}

Status PaperSheetDesk::keep()
{
    return m_session.project().halfTyped().save({name(), toJson(), m_session.now()});
}

Status PaperSheetDesk::drop()
{
    Status dropped = m_session.project().halfTyped().drop(name());
    return dropped ? open(m_sheet.round) : dropped;
}

QString PaperSheetDesk::name() const
{
    return m_sheet.round.isNull() ? namePrefix
                                  : namePrefix + QLatin1Char(' ') + m_sheet.round.text();
}

QJsonObject PaperSheetDesk::toJson() const
{
    QJsonArray rows;
    for (const SheetLine &line : m_lines) {
        QJsonArray texts;
        for (const QString &text : line.row.texts) {
            texts.append(text);
        }
        QJsonObject json{{QStringLiteral("texts"), texts}};
        if (!line.recorded.isNull()) {
            json[QStringLiteral("recorded")] = line.recorded.text();
            json[QStringLiteral("as")] = line.recordedAs.iso();
        }
        rows.append(json);
    }
    return {{dateKey, m_sheet.date.toString(Qt::ISODate)}, {rowsKey, rows}};
}

void PaperSheetDesk::fromJson(const QJsonObject &json)
{
    const QDate date = QDate::fromString(json.value(dateKey).toString(), Qt::ISODate);
    m_sheet.date = date.isValid() ? date : m_sheet.date;
    for (const QJsonValue &value : json.value(rowsKey).toArray()) {
        const QJsonObject object = value.toObject();
        const QJsonArray texts = object.value(QLatin1String("texts")).toArray();
        SheetLine line;
        for (std::size_t i = 0; i < paperColumnCount; ++i) {
            line.row.texts.at(i) = texts.at(qsizetype(i)).toString();
        }
        line.recorded = VisitId::fromText(object.value(QLatin1String("recorded")).toString());
        line.recordedAs = Moment::fromIso(object.value(QLatin1String("as")).toString());
        m_lines.push_back(std::move(line));
    }
}

Moment PaperSheetDesk::arrivalBefore(std::size_t line) const
{
    Moment before;
    for (std::size_t i = 0; i < line; ++i) {
        if (!m_lines[i].recorded.isNull()) {
            before = m_lines[i].recordedAs;
        } else if (!m_lines[i].row.isUntouched()) {
            const PaperReading reading = readPaperRow(m_lines[i].row, m_sheet, before);
            before = reading.refusals.contains(PaperColumn::Time) ? before : reading.visit.arrived;
        }
    }
    return before;
}

CheckedSheetLine PaperSheetDesk::check(std::size_t line) const
{
    const SheetLine &typed = m_lines.at(line);
    CheckedSheetLine checked;
    if (!typed.recorded.isNull()) {
        checked.state = CheckedSheetLine::State::Recorded;
    }
    const bool isUntouched = typed.row.isUntouched();
    const QString number = typed.row.text(PaperColumn::Number).trimmed();
    if (isUntouched && number.isEmpty()) {
        return checked;
    }
    checked.reading = readPaperRow(typed.row, m_sheet, arrivalBefore(line));
    if (!number.isEmpty()) {
        checkValve(line, checked);
    }
    if (checked.state == CheckedSheetLine::State::Recorded) {
        checked.reading.refusals.clear();
        return checked;
    }
    if (isUntouched) {
        // Only what is wrong with the number is said before anything else is typed.
        const QString refusal = checked.reading.refusals.value(PaperColumn::Number);
        checked.reading.refusals.clear();
        if (refusal.isEmpty()) {
            return checked;
        }
        checked.reading.refusals.insert(PaperColumn::Number, refusal);
    }
    checked.state = checked.reading.isSound() ? CheckedSheetLine::State::Sound
                                              : CheckedSheetLine::State::Refused;
    return checked;
}

void PaperSheetDesk::checkValve(std::size_t line, CheckedSheetLine &checked) const
{
    const QString number = m_lines[line].row.text(PaperColumn::Number).trimmed();
    const Valve *valve = m_session.valveByNumber(number);
    if (valve == nullptr) {
        checked.reading.refusals.insert(PaperColumn::Number,
                                        QObject::tr("No valve has the number \"%1\".").arg(number));
        return;
    }
    checked.valve = *valve;
    checked.reading.visit.valve = valve->id;
    if (const QString refusal = refusalOfValve(line, *valve); !refusal.isEmpty()) {
        checked.reading.refusals.insert(PaperColumn::Number, refusal);
    }
    if (checked.reading.visit.arrived > m_session.now()) {
        checked.reading.refusals.insert(PaperColumn::Time,
                                        QObject::tr("This is still to come. Check the day and the "
                                                    "time."));
    }
    const Visit &visit = checked.reading.visit;
    checked.judgement = judge(visit.passes, visit.problems, m_session.history(valve->id).baseline,
                              m_session.settings().tolerance);
    const Position normal =
        valve->normally == NormalPosition::Open ? Position::Open : Position::Closed;
    checked.leavesOtherThanNormal =
        visit.left.position != Position::NotSeen && visit.left.position != normal;
}

QString PaperSheetDesk::refusalOfValve(std::size_t line, const Valve &valve) const
{
    if (!m_lines[line].recorded.isNull()) {
        return {};
    }
    if (valve.retired) {
        return QObject::tr("Valve %1 is retired.").arg(valve.number);
    }
    for (std::size_t i = 0; i < m_lines.size(); ++i) {
        if (i != line && m_lines[i].row.text(PaperColumn::Number).trimmed() == valve.number &&
            (i < line || !m_lines[i].recorded.isNull())) {
            return QObject::tr("Valve %1 stands in row %2 too.").arg(valve.number).arg(i + 1);
        }
    }
    for (const ReadVisit &read : m_session.history(valve.id).visits) {
        if (read.visit.arrived.localDate() == m_sheet.date) {
            return QObject::tr("Valve %1 has a visit of this day already, at %2. Correct that one "
                               "in the Truck.")
                .arg(valve.number, read.visit.arrived.local().toString(QStringLiteral("HH:mm")));
        }
    }
    for (const StopDraft &draft : m_session.drafts()) {
        if (draft.round == m_sheet.round && draft.valve == valve.id && !isSkipMark(draft.content)) {
            return QObject::tr("A half-typed stop of valve %1 waits in the Truck. Record or drop "
                               "it there first.")
                .arg(valve.number);
        }
    }
    return {};
}

SheetSummary PaperSheetDesk::summary() const
{
    SheetSummary summary;
    QMap<Verdict, int> verdicts;
    for (std::size_t i = 0; i < m_lines.size(); ++i) {
        const CheckedSheetLine checked = check(i);
        switch (checked.state) {
        case CheckedSheetLine::State::Untouched:
            summary.untouched +=
                m_lines[i].row.text(PaperColumn::Number).trimmed().isEmpty() ? 0 : 1;
            break;
        case CheckedSheetLine::State::Sound:
            ++summary.sound;
            ++verdicts[checked.judgement.verdict];
            if (checked.leavesOtherThanNormal) {
                summary.leftOther << QObject::tr("%1 (%2)").arg(
                    checked.valve->number, wordFor(checked.reading.visit.left.position));
            }
            break;
        case CheckedSheetLine::State::Refused:
            ++summary.refused;
            summary.refusedInWords
                << QObject::tr("row %1, %2").arg(i + 1).arg(checked.firstRefusal());
            break;
        case CheckedSheetLine::State::Recorded:
            ++summary.recorded;
            break;
        }
    }
    for (auto verdict = verdicts.cbegin(); verdict != verdicts.cend(); ++verdict) {
        summary.verdicts << QObject::tr("%1 %2").arg(verdict.value()).arg(wordFor(verdict.key()));
    }
    return summary;
}

Status PaperSheetDesk::record(std::size_t line)
{
    const CheckedSheetLine checked = check(line);
    if (checked.state != CheckedSheetLine::State::Sound) {
        return fail(
            ErrorCode::BadInput,
            QObject::tr("Row %1 was not recorded. %2").arg(line + 1).arg(checked.firstRefusal()));
    }
    const auto recorded = recordVisit(m_session, checked.reading.visit);
    if (!recorded) {
        return tl::unexpected(recorded.error());
    }
    m_lines[line].recorded = *recorded;
    m_lines[line].recordedAs = checked.reading.visit.arrived;
    const bool isAllDone = std::ranges::all_of(m_lines, [](const SheetLine &one) {
        return !one.recorded.isNull() || one.row.isUntouched();
    });
    // The visit is on disk whatever becomes of this: a sheet that still holds the row is refused
    // by the valve's visit of the day.
    return isAllDone ? m_session.project().halfTyped().drop(name()) : keep();
}

bool paperSheetWaits(Session &session)
{
    const QStringList names = session.isOpen()
                                  ? session.valueOr(session.project().halfTyped().names(), {})
                                  : QStringList();
    return std::ranges::any_of(names,
                               [](const QString &name) { return name.startsWith(namePrefix); });
}

} // namespace keyround
