// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/paper_row.h"

#include "core/inventory/value_parsers.h"

#include <algorithm>

namespace keyround {

namespace {

/// Words in small letters without marks: "Leaks at the packing or O-ring" gives leaks, at, the...
QStringList wordsOf(const QString &text)
{
    QString plain = text.toLower();
    for (QChar &c : plain) {
        c = c.isLetterOrNumber() ? c : QChar(u' ');
    }
    return plain.split(QLatin1Char(' '), Qt::SkipEmptyParts);
}

/// 0 does not fit; 1 somewhere inside; 2 from the first word; 3 the whole.
int fitOf(const QStringList &typed, const QStringList &words)
{
    const auto fitsFrom = [&](qsizetype from) {
        for (qsizetype i = 0; i < typed.size(); ++i) {
            const bool isLast = i + 1 == typed.size();
            const QString word = words.value(from + i);
            if (word.isEmpty() || (isLast ? !word.startsWith(typed[i]) : word != typed[i])) {
                return false;
            }
        }
        return true;
    };
    if (typed == words) {
        return 3;
    }
    if (fitsFrom(0)) {
        return 2;
    }
    for (qsizetype from = 1; from < words.size(); ++from) {
        if (fitsFrom(from)) {
            return 1;
        }
    }
    return 0;
}

QString listOf(const std::vector<ProblemChoice> &choices)
{
    constexpr std::size_t shown = 4;
    QStringList words;
    for (const ProblemChoice &choice : choices) {
        if (std::size_t(words.size()) == shown) {
            words << QStringLiteral("...");
            break;
        }
        words << choice.words;
    }
    return words.join(QStringLiteral("; "));
}

Result<ProblemChoice> oneOf(const QString &typed, const std::vector<ProblemChoice> &choices)
{
    const auto fitting = choicesFor(typed, choices);
    if (fitting.empty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" begins no problem. Remarks take any words.")
                        .arg(typed.trimmed()));
    }
    const QStringList words = wordsOf(typed);
    const int best = fitOf(words, wordsOf(fitting.front().words));
    if (fitting.size() > 1 && fitOf(words, wordsOf(fitting[1].words)) == best) {
        return fail(ErrorCode::BadInput, QStringLiteral("\"%1\" may mean: %2. Type more of it.")
                                             .arg(typed.trimmed(), listOf(fitting)));
    }
    return fitting.front();
}

bool keepsFromSeeing(const QList<Problem> &problems)
{
    return std::ranges::any_of(problems, [](Problem problem) {
        return infoOf(problem).group == ProblemGroup::Reach || problem == Problem::BoxFull;
    });
}

std::vector<Pass> passesOf(const std::vector<QuarterTurns> &closing,
                           const std::vector<QuarterTurns> &opening)
{
    std::vector<Pass> passes;
    const auto add = [&](PassDirection direction, QuarterTurns turns) {
        Pass pass;
        pass.direction = direction;
        pass.turns = turns;
        passes.push_back(pass);
    };
    for (std::size_t i = 0; i < std::max(closing.size(), opening.size()); ++i) {
        if (i < closing.size()) {
            add(PassDirection::Closing, closing[i]);
        }
        if (i < opening.size()) {
            add(PassDirection::Opening, opening[i]);
        }
    }
    return passes;
}

/// Keeps the refusal of a column, or hands the value on.
template <typename T> T taken(Result<T> read, PaperColumn column, PaperReading &reading)
{
    if (!read) {
        reading.refusals.insert(column, read.error().message);
        return {};
    }
    return std::move(*read);
}

void readStandings(const PaperRow &row, PaperReading &reading)
{
    const bool isUnseen = keepsFromSeeing(reading.visit.problems);
    const auto read = [&](PaperColumn column, const QString &question) {
        const auto standing = taken(standingTyped(row.text(column)), column, reading);
        if (standing || reading.refusals.contains(column) || isUnseen) {
            return standing.value_or(Standing{});
        }
        reading.refusals.insert(column, question);
        return Standing{};
    };
    reading.visit.found = read(PaperColumn::Found, QStringLiteral("How was it found? o open, c "
                                                                  "closed, p and turns part open, "
                                                                  "n not seen."));
    reading.visit.left = read(PaperColumn::Left, QStringLiteral("How was it left? o open, c "
                                                                "closed, p and turns part open, n "
                                                                "not seen."));
}

void readWhen(const PaperRow &row, const PaperSheet &sheet, const Moment &before,
              PaperReading &reading)
{
    const auto time = taken(arrivalTyped(row.text(PaperColumn::Time)), PaperColumn::Time, reading);
    reading.timeWritten = time.has_value();
    constexpr std::int64_t minute = 60'000;
    if (time || before.isNull()) {
        const QDateTime local(sheet.date, time.value_or(sheet.firstTime), Qt::OffsetFromUTC,
                              sheet.offsetSeconds);
        reading.visit.arrived = Moment::from(local);
    } else {
        reading.visit.arrived = {before.utcMilliseconds + minute, before.offsetSeconds};
    }
    // The sheet has no time of leaving: a stay of no length is left out of what is learned of
    // times.
    reading.visit.finished = reading.visit.arrived;
    if (time && !before.isNull() && reading.visit.arrived < before) {
        reading.refusals.insert(PaperColumn::Time,
                                QStringLiteral("Earlier than the row above. Check both, or leave "
                                               "it blank."));
    }
}

} // namespace

QString wordFor(PaperColumn column)
{
    static const std::array words{QStringLiteral("Valve"),         QStringLiteral("Arrive"),
                                  QStringLiteral("Found"),         QStringLiteral("Closing turns"),
                                  QStringLiteral("Opening turns"), QStringLiteral("Left"),
                                  QStringLiteral("Problems"),      QStringLiteral("Remarks")};
    return words.at(static_cast<std::size_t>(column));
}

bool PaperRow::isUntouched() const
{
    return std::all_of(texts.begin() + 1, texts.end(),
                       [](const QString &text) { return text.trimmed().isEmpty(); });
}

std::vector<ProblemChoice> problemChoices(const QStringList &own)
{
    std::vector<ProblemChoice> choices;
    for (const ProblemInfo &info : problemList()) {
        choices.push_back({QString::fromLatin1(info.words), info.problem});
    }
    for (const QString &words : own) {
        choices.push_back({words, std::nullopt});
    }
    return choices;
}

std::vector<ProblemChoice> choicesFor(const QString &beginning,
                                      const std::vector<ProblemChoice> &choices)
{
    const QStringList typed = wordsOf(beginning);
    if (typed.isEmpty()) {
        return choices;
    }
    std::vector<std::pair<int, ProblemChoice>> fitting;
    for (const ProblemChoice &choice : choices) {
        if (const int fit = fitOf(typed, wordsOf(choice.words)); fit > 0) {
            fitting.emplace_back(fit, choice);
        }
    }
    std::ranges::stable_sort(fitting, std::ranges::greater{},
                             &std::pair<int, ProblemChoice>::first);
    std::vector<ProblemChoice> ordered;
    for (auto &[fit, choice] : fitting) {
        ordered.push_back(std::move(choice));
    }
    return ordered;
}

Result<TypedProblems> problemsTyped(const QString &text, const std::vector<ProblemChoice> &choices)
{
    TypedProblems typed;
    for (const QString &part : text.split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        if (part.trimmed().isEmpty()) {
            continue;
        }
        const auto choice = oneOf(part, choices);
        if (!choice) {
            return tl::unexpected(choice.error());
        }
        if (choice->problem && !typed.problems.contains(*choice->problem)) {
            typed.problems << *choice->problem;
        } else if (!choice->problem && !typed.own.contains(choice->words)) {
            typed.own << choice->words;
        }
    }
    return typed;
}

QString problemsInFull(const QString &text, const std::vector<ProblemChoice> &choices)
{
    const auto typed = problemsTyped(text, choices);
    if (!typed) {
        return text;
    }
    QStringList words;
    for (const Problem problem : typed->problems) {
        words << QString::fromLatin1(infoOf(problem).words);
    }
    words << typed->own;
    // A name with a comma in it would be read as two the next time.
    const QString full = words.join(QStringLiteral(", "));
    const auto again = problemsTyped(full, choices);
    return again && *again == *typed ? full : text;
}

Result<std::optional<Standing>> standingTyped(const QString &text)
{
    const QString typed = text.trimmed().toLower();
    if (typed.isEmpty()) {
        return std::nullopt;
    }
    const auto isBeginningOf = [&](const char *word) {
        return QLatin1String(word).startsWith(typed);
    };
    if (isBeginningOf("open")) {
        return Standing{Position::Open, std::nullopt};
    }
    if (isBeginningOf("closed") || isBeginningOf("shut")) {
        return Standing{Position::Closed, std::nullopt};
    }
    if (isBeginningOf("not seen")) {
        return Standing{Position::NotSeen, std::nullopt};
    }
    if (typed.startsWith(QLatin1Char('p'))) {
        qsizetype letters = 0;
        while (letters < typed.size() && !typed[letters].isDigit()) {
            ++letters;
        }
        const QString word = typed.left(letters).trimmed();
        const auto turns = parseTurns(typed.mid(letters));
        if (QLatin1String("part open").startsWith(word) && turns && *turns) {
            return Standing{Position::PartOpen, **turns};
        }
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Part open takes the turns from closed: p 5, p 5 1/2."));
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("\"%1\" is no position: o open, c closed, p and turns part open, n "
                               "not seen.")
                    .arg(text.trimmed()));
}

Result<std::vector<QuarterTurns>> countsTyped(const QString &text)
{
    std::vector<QuarterTurns> counts;
    if (text.trimmed().isEmpty()) {
        return counts;
    }
    for (const QString &part : text.split(QLatin1Char('+'))) {
        auto turns = parseTurns(part);
        if (!turns) {
            return tl::unexpected(turns.error());
        }
        if (!*turns) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("A count is missing beside a +: 20+27 are two passes."));
        }
        counts.push_back(**turns);
    }
    return counts;
}

Result<std::optional<QTime>> arrivalTyped(const QString &text)
{
    const QString typed = text.trimmed();
    if (typed.isEmpty()) {
        return std::nullopt;
    }
    QString digits = typed;
    digits.replace(QLatin1Char('.'), QLatin1Char(':'));
    if (!digits.contains(QLatin1Char(':')) && digits.size() >= 3) {
        digits.insert(digits.size() - 2, QLatin1Char(':'));
    }
    const QTime time = QTime::fromString(digits, QStringLiteral("H:mm"));
    if (!time.isValid()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("\"%1\" is no time of day: 0815, 8:15, 14:30.").arg(typed));
    }
    return time;
}

PaperReading readPaperRow(const PaperRow &row, const PaperSheet &sheet, const Moment &before)
{
    PaperReading reading;
    Visit &visit = reading.visit;
    visit.round = sheet.round;
    visit.crew = sheet.crew;
    if (row.text(PaperColumn::Number).trimmed().isEmpty()) {
        reading.refusals.insert(PaperColumn::Number, QStringLiteral("Type the valve's number."));
    }
    const TypedProblems typed = taken(problemsTyped(row.text(PaperColumn::Problems), sheet.choices),
                                      PaperColumn::Problems, reading);
    visit.problems = typed.problems;
    visit.ownProblems = typed.own;
    visit.passes =
        passesOf(taken(countsTyped(row.text(PaperColumn::Closing)), PaperColumn::Closing, reading),
                 taken(countsTyped(row.text(PaperColumn::Opening)), PaperColumn::Opening, reading));
    readStandings(row, reading);
    readWhen(row, sheet, before, reading);
    QStringList remarks{row.text(PaperColumn::Remarks).trimmed()};
    if (visit.problems.contains(Problem::Other)) {
        visit.otherProblem = remarks.front();
        if (visit.otherProblem.isEmpty()) {
            reading.refusals.insert(PaperColumn::Remarks,
                                    QStringLiteral("Say in words what the other problem is."));
        }
    }
    remarks << (reading.timeWritten ? QStringLiteral("from the paper sheet")
                                    : QStringLiteral("from the paper sheet, time not written"));
    remarks.removeAll(QString());
    visit.remarks = remarks.join(QStringLiteral("; "));
    return reading;
}

} // namespace keyround
