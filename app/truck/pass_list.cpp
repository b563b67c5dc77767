// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/pass_list.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/stop_form.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QScrollBar>

namespace keyround {

namespace {

QString clockText(Seconds seconds)
{
    const int whole = static_cast<int>(seconds.value);
    return QStringLiteral("%1:%2").arg(whole / 60).arg(whole % 60, 2, 10, QLatin1Char('0'));
}

QString wordsOf(const CountedPass &pass, std::size_t index, TorqueUnit unit)
{
    QString words =
        QObject::tr("%1. %2 %3").arg(index + 1).arg(wordFor(pass.direction), turnsText(pass.turns));
    QStringList more;
    if (const auto took = timeOf(pass)) {
        more << clockText(*took);
    }
    if (pass.torque) {
        more << torqueText(*pass.torque, unit);
    }
    return more.isEmpty() ? words : words + QLatin1Char('\n') + more.join(QStringLiteral(", "));
}

} // namespace

PassList::PassList(QWidget *parent)
    : QScrollArea(parent), m_inner(new QWidget), m_rows(new QVBoxLayout(m_inner))
{
    m_rows->setContentsMargins(0, 0, 0, 0);
    m_rows->setSpacing(TruckScale::of(this).gap);
    setWidgetResizable(true);
    setFrameShape(QFrame::NoFrame);
    setFocusPolicy(Qt::NoFocus);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setWidget(m_inner);
}

void PassList::clear()
{
    m_words.clear();
    while (QLayoutItem *item = m_rows->takeAt(0)) {
        if (QWidget *row = item->widget()) {
            row->hide(); // by word: the layout would show an orphan later, as a window of its own
            row->setParent(nullptr);
            row->deleteLater(); // the row's own button may be what is being pressed
        }
        delete item;
    }
}

QWidget *PassList::rowFor(const CountedPass &pass, std::size_t index, TorqueUnit unit)
{
    auto *row = new QWidget(m_inner);
    auto *words = truckLabel(row, TextSize::Normal);
    words->setObjectName(QStringLiteral("pass-words"));
    words->setText(wordsOf(pass, index, unit));
    m_words.append(words);
    auto *remove = new BigButton(BigButton::Kind::Plain, tr("Remove"), row);
    remove->setObjectName(QStringLiteral("remove-pass-%1").arg(index + 1));
    remove->setAccessibleName(tr("Remove pass %1").arg(index + 1));
    remove->setSpacePresses(false);
    remove->setFocusPolicy(Qt::TabFocus);
    remove->setFixedWidth(TruckScale::of(this).target * 5 / 4);
    connect(remove, &QAbstractButton::clicked, this, [this, index] { Q_EMIT removeAsked(index); });
    auto *line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    line->setSpacing(TruckScale::of(this).gap);
    line->addWidget(words, 1);
    line->addWidget(remove);
    return row;
}

void PassList::show(const StopForm &form, TorqueUnit unit)
{
    clear();
    for (std::size_t i = 0; i < form.passes.size(); ++i) {
        QWidget *row = rowFor(form.passes[i], i, unit);
        m_rows->addWidget(row, 0, Qt::AlignTop);
        row->show();
    }
    m_rows->addStretch();
    m_rows->activate();
    verticalScrollBar()->setValue(verticalScrollBar()->maximum());
}

void PassList::showLast(const StopForm &form, TorqueUnit unit)
{
    if (form.passes.empty() || m_words.size() != static_cast<qsizetype>(form.passes.size())) {
        show(form, unit);
        return;
    }
    const std::size_t last = form.passes.size() - 1;
    m_words.back()->setText(wordsOf(form.passes[last], last, unit));
}

} // namespace keyround
