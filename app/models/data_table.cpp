// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/data_table.h"

#include "app/dialogs/choose_file.h"
#include "app/dialogs/plain_label.h"
#include "core/exchange/write_files.h"

#include <QAction>
#include <QApplication>
#include <QClipboard>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QItemSelectionModel>
#include <QLineEdit>
#include <QScopedValueRollback>
#include <QSettings>
#include <QSortFilterProxyModel>
#include <QTableView>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

namespace {

/// Every word of the filter must be found in some column.
class AllWordsFilter final : public QSortFilterProxyModel
{
public:
    using QSortFilterProxyModel::QSortFilterProxyModel;

    void setWords(const QString &text)
    {
        m_words = text.split(QLatin1Char(' '), Qt::SkipEmptyParts);
        invalidateFilter();
    }

protected:
    bool filterAcceptsRow(int row, const QModelIndex &parent) const override
    {
        return std::ranges::all_of(m_words, [&](const QString &word) {
            for (int column = 0; column < sourceModel()->columnCount(parent); ++column) {
                const QModelIndex index = sourceModel()->index(row, column, parent);
                if (index.data().toString().contains(word, Qt::CaseInsensitive)) {
                    return true;
                }
            }
            return false;
        });
    }

private:
    QStringList m_words;
};

} // namespace

DataTable::DataTable(const QString &name, QWidget *parent)
    : QWidget(parent), m_name(name), m_filter(new QLineEdit(this)), m_view(new QTableView(this)),
      m_empty(plainLabel({}, QStringLiteral("quiet"), this)),
      m_count(plainCaption({}, QStringLiteral("quiet"), this)), m_proxy(new AllWordsFilter(this))
{
    m_filter->setPlaceholderText(tr("Filter: words that a row must contain"));
    m_filter->setAccessibleName(tr("Filter"));
    m_filter->setClearButtonEnabled(true);
    m_empty->setAlignment(Qt::AlignCenter);
    m_proxy->setSortRole(sortRole);
    m_proxy->setSortLocaleAware(true);

    m_view->setModel(m_proxy);
    // The model's own order (by priority, by driving) until somebody sorts by a heading; a third
    // click on the heading brings it back.
    m_view->horizontalHeader()->setSortIndicator(-1, Qt::AscendingOrder);
    m_view->horizontalHeader()->setSortIndicatorClearable(true);
    m_view->setSortingEnabled(true);
    m_view->setAlternatingRowColors(true);
    m_view->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_view->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_view->setWordWrap(false);
    m_view->setTabKeyNavigation(false); // Tab goes on to the next control, not from cell to cell
    m_view->verticalHeader()->hide();
    // Fixed heights: measuring a million rows takes half a minute.
    m_view->verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    m_view->horizontalHeader()->setSectionsMovable(true);
    m_view->horizontalHeader()->setStretchLastSection(true);
    m_view->horizontalHeader()->setHighlightSections(false);

    auto *tools = new QHBoxLayout;
    tools->setObjectName(QStringLiteral("tools"));
    tools->addWidget(m_filter, 1);
    tools->addWidget(m_count);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addLayout(tools);
    layout->addWidget(m_view, 1);
    layout->addWidget(m_empty, 1);

    buildActions();
    connect(m_filter, &QLineEdit::textChanged, this, [this](const QString &text) {
        static_cast<AllWordsFilter *>(m_proxy)->setWords(text);
        refreshEmptyState();
    });
    connect(m_view, &QTableView::activated, this, [this](const QModelIndex &index) {
        Q_EMIT rowActivated(m_proxy->mapToSource(index).row());
    });
}

void DataTable::buildActions()
{
    auto *copy = new QAction(tr("Copy rows"), this);
    copy->setShortcut(QKeySequence::Copy);
    copy->setShortcutContext(Qt::WidgetWithChildrenShortcut);
    connect(copy, &QAction::triggered, this, &DataTable::copySelection);
    auto *save = new QAction(tr("Save as CSV..."), this);
    connect(save, &QAction::triggered, this, &DataTable::saveAsCsv);
    auto *find = new QAction(tr("Filter"), this);
    find->setShortcut(QKeySequence::Find);
    find->setShortcutContext(Qt::WidgetWithChildrenShortcut);
    connect(find, &QAction::triggered, m_filter, [this] { m_filter->setFocus(); });
    addAction(copy);
    addAction(find);
    m_view->setContextMenuPolicy(Qt::ActionsContextMenu);
    m_view->addActions({copy, save});
    auto *button = new QToolButton(this);
    button->setText(tr("CSV"));
    button->setToolTip(tr("Save the rows shown as CSV"));
    connect(button, &QToolButton::clicked, save, &QAction::trigger);
    addTool(button);
}

void DataTable::setModel(QAbstractItemModel *model)
{
    m_proxy->setSourceModel(model);
    restoreLayout();
    const auto refresh = [this] { refreshEmptyState(); };
    connect(model, &QAbstractItemModel::modelReset, this, refresh);
    connect(model, &QAbstractItemModel::rowsInserted, this, refresh);
    connect(model, &QAbstractItemModel::rowsRemoved, this, refresh);
    connect(m_view->selectionModel(), &QItemSelectionModel::selectionChanged, this,
            &DataTable::selectionChanged);
    QHeaderView *header = m_view->horizontalHeader();
    connect(header, &QHeaderView::sectionResized, this, [this, header](int section) {
        // The last column is as wide as the table leaves it: nobody arranged that.
        if (!m_ownWidths && header->visualIndex(section) != header->count() - 1) {
            keepLayout();
        }
    });
    connect(header, &QHeaderView::sectionMoved, this, &DataTable::keepLayout);
    connect(header, &QHeaderView::sortIndicatorChanged, this, &DataTable::keepLayout);
    refreshEmptyState();
}

void DataTable::setDefaultWidths(const QList<int> &widths)
{
    if (QSettings().contains(QStringLiteral("tables/") + m_name)) {
        return;
    }
    const QScopedValueRollback own(m_ownWidths, true);
    int column = 0;
    for (const int width : widths) {
        m_view->setColumnWidth(column++, width);
    }
}

void DataTable::setEmptyText(const QString &text)
{
    m_empty->setText(text);
    refreshEmptyState();
}

void DataTable::addTool(QWidget *widget)
{
    auto *tools = findChild<QHBoxLayout *>(QStringLiteral("tools"));
    tools->addWidget(widget);
}

void DataTable::refreshEmptyState()
{
    const int shown = m_proxy->rowCount();
    const int all = m_proxy->sourceModel() != nullptr ? m_proxy->sourceModel()->rowCount() : 0;
    const bool nothingAtAll = all == 0 && !m_empty->text().isEmpty();
    m_empty->setVisible(nothingAtAll);
    m_view->setVisible(!nothingAtAll);
    m_count->setText(shown == all ? QString::number(all) : tr("%1 of %2").arg(shown).arg(all));
}

QList<int> DataTable::selectedRows() const
{
    QList<int> rows;
    if (m_view->selectionModel() == nullptr) {
        return rows;
    }
    QModelIndexList indexes = m_view->selectionModel()->selectedRows();
    std::ranges::sort(indexes, {}, &QModelIndex::row);
    for (const QModelIndex &index : indexes) {
        rows << m_proxy->mapToSource(index).row();
    }
    return rows;
}

QList<int> DataTable::shownRows() const
{
    QList<int> rows;
    for (int row = 0; row < m_proxy->rowCount(); ++row) {
        rows << m_proxy->mapToSource(m_proxy->index(row, 0)).row();
    }
    return rows;
}

void DataTable::selectRow(int sourceRow)
{
    const QModelIndex index = m_proxy->mapFromSource(m_proxy->sourceModel()->index(sourceRow, 0));
    if (index.isValid()) {
        m_view->selectRow(index.row());
        m_view->scrollTo(index, QAbstractItemView::PositionAtCenter);
    }
}

void DataTable::selectRows(const QList<int> &sourceRows)
{
    QItemSelection selection;
    QModelIndex first;
    for (const int row : sourceRows) {
        const QModelIndex index = m_proxy->mapFromSource(m_proxy->sourceModel()->index(row, 0));
        if (index.isValid()) {
            selection.select(index, index);
            first = first.isValid() && first.row() <= index.row() ? first : index;
        }
    }
    m_view->selectionModel()->select(selection, QItemSelectionModel::ClearAndSelect |
                                                    QItemSelectionModel::Rows);
    if (first.isValid()) {
        m_view->selectionModel()->setCurrentIndex(first, QItemSelectionModel::NoUpdate);
        m_view->scrollTo(first);
    }
}

QVector<QStringList> DataTable::shownText() const
{
    QVector<QStringList> lines;
    const QHeaderView *header = m_view->horizontalHeader();
    const auto line = [&](auto text) {
        QStringList cells;
        for (int visual = 0; visual < header->count(); ++visual) {
            const int column = header->logicalIndex(visual);
            if (!header->isSectionHidden(column)) {
                cells << text(column);
            }
        }
        return cells;
    };
    lines << line(
        [&](int column) { return m_proxy->headerData(column, Qt::Horizontal).toString(); });
    for (int row = 0; row < m_proxy->rowCount(); ++row) {
        lines << line([&](int column) { return m_proxy->index(row, column).data().toString(); });
    }
    return lines;
}

void DataTable::copySelection()
{
    QStringList lines;
    const QVector<QStringList> all = shownText();
    lines << all.first().join(QLatin1Char('\t'));
    for (const QModelIndex &index : m_view->selectionModel()->selectedRows()) {
        lines << all.at(index.row() + 1).join(QLatin1Char('\t'));
    }
    QApplication::clipboard()->setText(lines.join(QLatin1Char('\n')));
}

void DataTable::saveAsCsv()
{
    const QString path = chooseFileToSave(this, tr("Save the rows shown"),
                                          m_name + QStringLiteral(".csv"), tr("CSV (*.csv)"));
    if (path.isEmpty()) {
        return;
    }
    QVector<QStringList> lines = shownText();
    CsvTable table{lines.takeFirst(), lines};
    const Status saved = writeCsv(path, table);
    showOutcome(this, saved, tr("Saved %n rows to %1", nullptr, int(table.rows.size())).arg(path));
}

void DataTable::restoreLayout()
{
    const QByteArray state = QSettings().value(QStringLiteral("tables/") + m_name).toByteArray();
    if (!state.isEmpty()) {
        m_view->horizontalHeader()->restoreState(state);
    }
}

void DataTable::keepLayout() const
{
    QSettings().setValue(QStringLiteral("tables/") + m_name,
                         m_view->horizontalHeader()->saveState());
}

} // namespace keyround
