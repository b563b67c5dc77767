// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/board_preview.h"

#include "app/dialogs/paper_preview.h"
#include "app/office/answers.h"
#include "app/print/board_files.h"
#include "app/shell/session.h"
#include "core/reports/board_times.h"

#include <memory>

namespace keyround {

namespace {

/// What may be chosen, and what is.
struct BoardChoice
{
    std::vector<FigureScope> scopes;
    std::size_t chosen = 0;
    QStringList words;
    QStringList fileNames;
};

void add(BoardChoice &choice, PreviewPick &pick, const FigureScope &scope, const QString &name,
         const QString &words, const QString &file)
{
    choice.scopes.push_back(scope);
    choice.words << words;
    choice.fileNames << file;
    pick.options << name;
}

} // namespace

PaperPreview *openBoardPreview(QWidget *owner, Session &session, const FigureScope &scope)
{
    const BoardTimes times =
        boardTimes(session.visits().empty() ? QDate() : wholeSpan(session).from, session.today());
    const QString counted = scope.filter.words(session.units());
    const QString valves =
        counted.isEmpty() ? QObject::tr("All valves.") : QObject::tr("Counted: %1.").arg(counted);
    auto choice = std::make_shared<BoardChoice>();
    PreviewPick pick;
    pick.label = QObject::tr("The report is about");
    for (const BoardTime &time : times.years) {
        add(*choice, pick, {scope.filter, time.span, PeriodLength::Month}, time.name,
            QStringLiteral("%1 %2 %3").arg(time.words, times.why, valves),
            QObject::tr("board-report-%1.pdf").arg(time.span.from.year()));
    }
    add(*choice, pick, scope, QObject::tr("the Office's time"),
        QObject::tr("%1 to %2, as chosen at the left in the Office. %3")
            .arg(scope.span.from.toString(Qt::ISODate), scope.span.to.toString(Qt::ISODate),
                 valves),
        QObject::tr("board-report.pdf"));
    pick.current = static_cast<int>(times.usual);
    pick.take = [choice](int option) {
        choice->chosen = static_cast<std::size_t>(option);
        return PreviewPick::Taken{choice->words[option], choice->fileNames[option]};
    };
    PreviewJob job;
    job.title = QObject::tr("Board report");
    job.pick = std::move(pick);
    job.make = [&session, choice](const std::vector<int> &) {
        const FigureScope &wanted = choice->scopes[choice->chosen];
        return boardPaper(session, wanted.filter, wanted.span, wanted.length);
    };
    return PaperPreview::openBeside(owner, session, std::move(job));
}

} // namespace keyround
