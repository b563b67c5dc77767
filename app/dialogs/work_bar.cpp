// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/work_bar.h"

#include "app/dialogs/input_events.h"
#include "app/dialogs/plain_label.h"

#include <QCoreApplication>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QProgressBar>
#include <QPushButton>
#include <QWindow>

namespace keyround {

namespace {

constexpr int refreshMilliseconds = 40;
constexpr int barSteps = 1000;

/// Tool tips and lists that fold up close by themselves; a window or a dialog is closed by people.
bool isWindowOfPeople(const QObject *watched)
{
    Qt::WindowType type = Qt::Widget;
    if (const auto *widget = qobject_cast<const QWidget *>(watched)) {
        type = widget->isWindow() ? widget->windowType() : Qt::Widget;
    } else if (const auto *window = qobject_cast<const QWindow *>(watched)) {
        type = window->type();
    }
    return type == Qt::Window || type == Qt::Dialog;
}

} // namespace

WorkBar::WorkBar(QWidget *parent, int patience)
    : QWidget(parent), m_what(plainCaption({}, {}, this)),
      m_refusal(
          plainCaption(tr("Still at work: press Stop first."), QStringLiteral("caution"), this)),
      m_bar(new QProgressBar(this)), m_stop(new QPushButton(tr("Stop"), this)), m_patience(patience)
{
    m_refusal->setObjectName(QStringLiteral("workRefusal"));
    m_stop->setObjectName(QStringLiteral("workStop"));
    m_stop->setToolTip(tr("Esc"));
    m_bar->setRange(0, barSteps);
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(m_what);
    row->addWidget(m_bar, 1);
    row->addWidget(m_refusal);
    row->addWidget(m_stop);
    connect(m_stop, &QPushButton::clicked, this, [this] { m_stopped = true; });
    hide();
}

void WorkBar::begin(const QList<QWidget *> &others)
{
    m_stopped = false;
    m_others = others;
    m_sinceShown.start();
    if (m_patience == 0) {
        appear();
    }
}

// Until then no event is let through, so nothing need be kept from it.
void WorkBar::appear()
{
    m_isShown = true;
    m_bar->setValue(0);
    m_refusal->hide();
    for (QWidget *other : m_others) {
        other->setEnabled(false);
    }
    show();
    QCoreApplication::instance()->installEventFilter(this);
    QCoreApplication::processEvents();
    m_sinceShown.restart();
}

bool WorkBar::step(double done, const QString &what)
{
    if (!m_isShown && m_sinceShown.elapsed() >= m_patience) {
        appear();
    }
    if (m_isShown && m_sinceShown.elapsed() >= refreshMilliseconds) {
        m_what->setText(what);
        m_bar->setValue(int(done * barSteps));
        QCoreApplication::processEvents();
        m_sinceShown.restart();
    }
    return !m_stopped;
}

void WorkBar::end()
{
    if (!m_isShown) {
        return;
    }
    m_isShown = false;
    QCoreApplication::instance()->removeEventFilter(this);
    for (QWidget *other : m_others) {
        other->setEnabled(true);
    }
    hide();
}

bool WorkBar::eventFilter(QObject *watched, QEvent *event)
{
    if (event->type() == QEvent::Close && isWindowOfPeople(watched)) {
        event->ignore();
        m_refusal->show();
        return true;
    }
    // What comes to a QWindow is passed on to a widget of it, and is seen there.
    if (!isInput(event->type()) || watched->isWindowType() || watched == m_stop) {
        return false;
    }
    if (event->type() == QEvent::KeyPress &&
        static_cast<const QKeyEvent *>(event)->key() == Qt::Key_Escape) {
        m_stopped = true;
    }
    return true;
}

} // namespace keyround
