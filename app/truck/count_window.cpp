// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/count_window.h"

#include "app/dialogs/truck_look.h"
#include "app/truck/count_pad.h"
#include "app/truck/stop_words.h"

#include <QApplication>
#include <QKeyEvent>
#include <QLabel>
#include <QSettings>
#include <QVBoxLayout>

namespace keyround {

namespace {

constexpr const char *geometryKey = "countWindow";

} // namespace

CountWindow::CountWindow(StopDesk &desk, TurnCounter &counter, QWidget *owner)
    : QWidget(owner, Qt::Window), m_desk(desk), m_counter(counter),
      m_title(truckLabel(this, TextSize::Title, true)), m_hint(truckLabel(this, TextSize::Small)),
      m_pad(new CountPad(desk, counter, QStringLiteral("window-"), this))
{
    setObjectName(QStringLiteral("count-window"));
    setWindowTitle(tr("Counting"));
    setAttribute(Qt::WA_QuitOnClose, false);
    m_title->setObjectName(QStringLiteral("window-title"));
    m_hint->setText(tr("Space counts here; F8 counts and F7 takes one back from every other "
                       "window. Esc closes this one."));
    const int gap = TruckScale::of(this).gap;
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap, gap, gap, gap);
    layout->setSpacing(gap);
    layout->addWidget(m_title);
    layout->addWidget(m_pad, 1);
    layout->addWidget(m_hint);
    connect(&counter, &TurnCounter::openChanged, this, &CountWindow::showForm);
    if (!restoreGeometry(QSettings().value(QLatin1String(geometryKey)).toByteArray())) {
        resize(TruckScale::of(this).target * 9, TruckScale::of(this).target * 5);
    }
}

CountWindow::~CountWindow()
{
    qApp->removeEventFilter(this);
}

void CountWindow::open()
{
    // The look is the owner's, and may have changed; a window does not take over its style sheet.
    const TruckColours &colours = TruckColours::of(parentWidget());
    setStyleSheet(
        QStringLiteral("QWidget#count-window { background: %1; }").arg(colours.ground.name()) +
        sheetFor(colours));
    showForm();
    qApp->removeEventFilter(this); // once, however often it is opened
    qApp->installEventFilter(this);
    show();
    raise();
    activateWindow();
    m_pad->target()->setFocus();
}

void CountWindow::showForm()
{
    m_title->setText(m_counter.isOpen() ? titleOf(m_desk.valve, m_desk.session.units())
                                        : tr("No stop is open: nothing is counted"));
    m_pad->showForm();
}

void CountWindow::keyPressEvent(QKeyEvent *event)
{
    if (m_pad->takeKey(event)) {
        event->accept();
    } else if (event->key() == Qt::Key_Escape) {
        close();
    } else {
        QWidget::keyPressEvent(event);
    }
}

bool CountWindow::eventFilter(QObject *watched, QEvent *event)
{
    // Every key passes through the windows once; the widgets below would see it again.
    if (event->type() == QEvent::KeyPress && watched->isWidgetType()) {
        const auto *key = static_cast<QKeyEvent *>(event);
        const bool counts = key->key() == Qt::Key_F8;
        if ((counts || key->key() == Qt::Key_F7) && key->modifiers() == Qt::NoModifier) {
            if (!key->isAutoRepeat()) {
                counts ? m_counter.count(QuarterTurns::ofTurns(1)) : m_counter.takeBack();
            }
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

void CountWindow::hideEvent(QHideEvent *event)
{
    qApp->removeEventFilter(this);
    QSettings().setValue(QLatin1String(geometryKey), saveGeometry());
    QWidget::hideEvent(event);
}

} // namespace keyround
