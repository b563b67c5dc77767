// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/work_bar.h"

#include "app/dialogs/plain_label.h"

#include <QCoreApplication>
#include <QHBoxLayout>
#include <QProgressBar>
#include <QPushButton>

namespace keyround {

namespace {

constexpr int refreshMilliseconds = 40;
constexpr int barSteps = 1000;

} // namespace

WorkBar::WorkBar(QWidget *parent)
    : QWidget(parent), m_what(plainCaption({}, {}, this)), m_bar(new QProgressBar(this)),
      m_stop(new QPushButton(tr("Stop"), this))
{
    m_bar->setRange(0, barSteps);
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(m_what);
    row->addWidget(m_bar, 1);
    row->addWidget(m_stop);
    connect(m_stop, &QPushButton::clicked, this, [this] { m_stopped = true; });
    hide();
}

void WorkBar::begin(const QList<QWidget *> &others)
{
    m_stopped = false;
    m_bar->setValue(0);
    for (QWidget *other : others) {
        other->setEnabled(false);
    }
    show();
    m_sinceShown.start();
    QCoreApplication::processEvents();
}

bool WorkBar::step(double done, const QString &what)
{
    if (m_sinceShown.elapsed() >= refreshMilliseconds) {
        m_what->setText(what);
        m_bar->setValue(int(done * barSteps));
        QCoreApplication::processEvents();
        m_sinceShown.restart();
    }
    return !m_stopped;
}

void WorkBar::end(const QList<QWidget *> &others)
{
    for (QWidget *other : others) {
        other->setEnabled(true);
    }
    hide();
}

} // namespace keyround
