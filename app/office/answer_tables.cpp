// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answer_tables.h"

#include "app/models/data_table.h"
#include "app/office/answer_model.h"

#include <QEvent>
#include <QHeaderView>
#include <QStyle>
#include <QTableView>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr int rowHeight = 26;
constexpr int rowsAtLeast = 5; ///< an answer with fewer in sight says little about its valves
constexpr int rowsMeasured = 40;
constexpr int narrowestWords = 110;

} // namespace

AnswerTables::Entry &AnswerTables::entry(Question question)
{
    Entry &found = m_entries[static_cast<size_t>(question)];
    if (found.table != nullptr) {
        return found;
    }
    found.model = new AnswerModel(question, this);
    found.table = new DataTable(QStringLiteral("office-") + keyFor(question), this);
    found.table->setModel(found.model);
    found.table->setObjectName(QStringLiteral("valvesBehind"));
    found.table->view()->setAccessibleName(tr("Valves behind the answer"));
    found.table->view()->setToolTip(tr("Double-click or Enter shows the valve's visits"));
    QTableView *view = found.table->view();
    view->verticalHeader()->setDefaultSectionSize(rowHeight);
    view->horizontalHeader()->setResizeContentsPrecision(rowsMeasured);
    view->setMinimumHeight(view->horizontalHeader()->sizeHint().height() + rowsAtLeast * rowHeight +
                           2 * view->frameWidth());
    view->setProperty("question", static_cast<int>(question));
    view->installEventFilter(this);
    connect(found.table, &DataTable::rowActivated, this, [this, model = found.model](int row) {
        Q_EMIT rowOpened(model->row(row).valve, model->row(row).visit);
    });
    addWidget(found.table);
    return found;
}

bool AnswerTables::eventFilter(QObject *watched, QEvent *event)
{
    if (event->type() == QEvent::Resize) {
        fitColumns(static_cast<Question>(watched->property("question").toInt()));
    }
    return QStackedWidget::eventFilter(watched, event);
}

void AnswerTables::fitColumns(Question question)
{
    const Entry &shown = entry(question);
    const QTableView *view = shown.table->view();
    const QList<AnswerColumn> columns = answerColumns(question);
    const auto pixels = [view](QStyle::PixelMetric metric) {
        return view->style()->pixelMetric(metric, nullptr, view);
    };
    QList<int> widths;
    QList<int> wordy;
    int rest = view->width() - 2 * view->frameWidth() - pixels(QStyle::PM_ScrollBarExtent);
    for (int column = 0; column < columns.size(); ++column) {
        const int cells = static_cast<const QAbstractItemView *>(view)->sizeHintForColumn(column);
        // Every heading has room for the mark of sorting, which none shows at first.
        const int heading =
            view->horizontalHeader()->sectionSizeHint(column) - pixels(QStyle::PM_HeaderMarkSize);
        widths << std::max(cells + 8, heading);
        if (columns[column].takesRest) {
            wordy << column;
        } else {
            rest -= widths.back();
        }
    }
    // Whoever needs less than an equal part leaves what is over to the others.
    std::ranges::stable_sort(wordy, {}, [&widths](int column) { return widths[column]; });
    for (qsizetype i = 0; i < wordy.size(); ++i) {
        int &width = widths[wordy[i]];
        width = std::max(narrowestWords, std::min(width, rest / int(wordy.size() - i)));
        rest -= width;
    }
    shown.table->setDefaultWidths(widths);
}

DataTable *AnswerTables::table(Question question)
{
    return entry(question).table;
}

void AnswerTables::show(Question question, Answer &&answer)
{
    Entry &shown = entry(question);
    shown.table->setEmptyText(answer.emptyTable);
    shown.model->setAnswer(std::move(answer.rows), std::move(answer.cells));
    setCurrentWidget(shown.table);
    fitColumns(question);
}

void AnswerTables::openOnlyRow(Question question)
{
    const Entry &shown = entry(question);
    if (shown.model->rowCount() == 1) {
        shown.table->selectRow(0);
        Q_EMIT rowOpened(shown.model->row(0).valve, shown.model->row(0).visit);
    }
}

} // namespace keyround
