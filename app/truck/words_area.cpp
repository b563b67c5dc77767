// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/words_area.h"

#include "app/dialogs/truck_look.h"

#include <QEvent>
#include <QLayout>
#include <QScrollBar>

#include <algorithm>

namespace keyround {

WordsArea::WordsArea(QLayout *content, const QString &name, QWidget *parent)
    : QScrollArea(parent), m_inner(new QWidget)
{
    m_inner->setLayout(content);
    // The area gives the widget its size itself: left to the scroll area, words that wrap keep the
    // height that they needed before the scroll bar took its width.
    setWidgetResizable(false);
    setFrameShape(QFrame::NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFocusPolicy(Qt::TabFocus);
    setAccessibleName(name);
    setWidget(m_inner);
    m_inner->installEventFilter(this);
}

void WordsArea::fit()
{
    // Room for the scroll bar is always kept, so that the words do not wrap anew when it comes.
    const int bar = TruckScale::of(this).gap * 2 + 2;
    const int width = std::max(1, QScrollArea::width() - bar);
    QLayout *layout = m_inner->layout();
    layout->invalidate();
    const int needed =
        layout->hasHeightForWidth() ? layout->heightForWidth(width) : layout->sizeHint().height();
    const QSize size(width, std::max(needed, height()));
    if (m_inner->size() != size) {
        m_inner->resize(size);
    }
    layout->setGeometry(QRect(QPoint(0, 0), size));
}

void WordsArea::resizeEvent(QResizeEvent *event)
{
    QScrollArea::resizeEvent(event);
    fit();
}

bool WordsArea::eventFilter(QObject *watched, QEvent *event)
{
    const bool handled = QScrollArea::eventFilter(watched, event);
    if (watched == m_inner && event->type() == QEvent::LayoutRequest) {
        fit();
    }
    return handled;
}

} // namespace keyround
