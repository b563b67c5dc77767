// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart.h"

#include "app/charts/chart_parts.h"

#include <QAccessible>
#include <QHeaderView>
#include <QKeyEvent>
#include <QStackedLayout>
#include <QTableView>

namespace keyround {

Chart::Chart(QWidget *parent) : QWidget(parent), m_parts(std::make_unique<Parts>(*this))
{
    setFocusPolicy(Qt::StrongFocus);
    m_parts->stack = new QStackedLayout(this);
    m_parts->stack->setContentsMargins(0, 0, 0, 0);
    m_parts->stack->addWidget(m_parts->plot);
    m_parts->stack->addWidget(m_parts->table);
    m_parts->table->installEventFilter(this);
    show(ChartPicture{});
}

Chart::~Chart() = default;

void Chart::show(const ChartPicture &picture)
{
    m_parts->take(picture);
    setAccessibleName(picture.title.isEmpty() ? tr("Chart") : picture.title);
    QStringList words{picture.filterWords, picture.note,
                      picture.isEmpty()       ? picture.emptyWords
                      : picture.items.empty() ? QString()
                                              : picture.items.back().words};
    words.removeAll(QString());
    setAccessibleDescription(words.join(QStringLiteral(". ")));
    // Columns as wide as their words, for a table of few rows; a long one would take too long.
    m_parts->table->horizontalHeader()->setResizeContentsPrecision(50);
    m_parts->table->resizeColumnsToContents();
}

const ChartPicture &Chart::picture() const
{
    return m_parts->picture;
}

void Chart::choose(int item)
{
    m_parts->chosen = item >= 0 && item < m_parts->count() ? item : -1;
    m_parts->chosenChanged();
    if (m_parts->chosen >= 0) {
        setAccessibleDescription(
            m_parts->picture.items[static_cast<size_t>(m_parts->chosen)].words);
        QAccessibleEvent changed(this, QAccessible::DescriptionChanged);
        QAccessible::updateAccessibility(&changed);
    }
}

int Chart::chosen() const
{
    return m_parts->chosen;
}

void Chart::setTableShown(bool on)
{
    if (isTableShown() == on) {
        return;
    }
    m_parts->stack->setCurrentWidget(on ? static_cast<QWidget *>(m_parts->table)
                                        : static_cast<QWidget *>(m_parts->plot));
    (on ? static_cast<QWidget *>(m_parts->table) : this)->setFocus();
    Q_EMIT tableShown(on);
}

bool Chart::isTableShown() const
{
    return m_parts->stack->currentWidget() == m_parts->table;
}

QTableView *Chart::table() const
{
    return m_parts->table;
}

QPoint Chart::placeOf(int item) const
{
    const QPointF at = m_parts->middleOf(m_parts->picture.items.at(static_cast<size_t>(item)));
    return m_parts->plot->mapTo(this, at.toPoint());
}

QPoint Chart::placeOf(double x, double y) const
{
    const QPointF at(m_parts->plot->xAxis->coordToPixel(x), m_parts->plot->yAxis->coordToPixel(y));
    return m_parts->plot->mapTo(this, at.toPoint());
}

int Chart::seenItems() const
{
    const QCPRange range = m_parts->plot->xAxis->range();
    int seen = 0;
    for (const ChartItem &item : m_parts->picture.items) {
        seen += range.contains((item.x + item.x2) / 2.0) ? 1 : 0;
    }
    return seen;
}

void Chart::showWhole()
{
    m_parts->showWhole();
}

bool Chart::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_parts->table && event->type() == QEvent::KeyPress) {
        auto *key = static_cast<QKeyEvent *>(event);
        if (key->key() == Qt::Key_T || key->matches(QKeySequence::Copy)) {
            keyPressEvent(key);
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

void Chart::keyPressEvent(QKeyEvent *event)
{
    if (event->matches(QKeySequence::Copy)) {
        return copy();
    }
    switch (event->key()) {
    case Qt::Key_Left:
    case Qt::Key_Right: {
        if (m_parts->count() > 0 && !isTableShown()) {
            const int next = m_parts->neighbour(event->key() == Qt::Key_Left ? -1 : 1);
            if (next != m_parts->chosen) {
                m_parts->click(next);
            }
        }
        return;
    }
    case Qt::Key_Escape:
        if (m_parts->chosen >= 0) {
            m_parts->click(m_parts->chosen); // a second time takes it back
            return;
        }
        break;
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        return m_parts->zoomAboutMiddle(1 / 1.5);
    case Qt::Key_Minus:
        return m_parts->zoomAboutMiddle(1.5);
    case Qt::Key_Home:
        return showWhole();
    case Qt::Key_T:
        return setTableShown(!isTableShown());
    default:
        break;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
