// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/choice_button.h"

#include "app/dialogs/plain_label.h"

#include <QFrame>
#include <QKeyEvent>
#include <QListWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

ChoiceButton::ChoiceButton(const QString &name, QWidget *parent)
    : QPushButton(parent), m_name(name), m_popup(new QFrame(this, Qt::Popup)),
      m_list(new QListWidget(m_popup))
{
    auto *layout = new QVBoxLayout(m_popup);
    layout->setContentsMargins(1, 1, 1, 1);
    layout->addWidget(m_list);
    m_list->setAccessibleName(name);
    m_list->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_list->installEventFilter(this);
    connect(m_list, &QListWidget::itemClicked, this, &ChoiceButton::toggle);
    connect(this, &QPushButton::clicked, this, &ChoiceButton::open);
    setProperty("role", QStringLiteral("choice"));
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    refreshText();
}

void ChoiceButton::setOptions(const QList<Option> &options)
{
    const QVariantList before = chosen();
    m_list->clear();
    for (const Option &option : options) {
        auto *item = new QListWidgetItem(option.words, m_list);
        item->setData(Qt::UserRole, option.value);
        item->setToolTip(plainToolTip(option.words));
        // Ticked by toggle() alone, so that a click on the words does what one on the box does.
        item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable);
        item->setCheckState(before.contains(option.value) ? Qt::Checked : Qt::Unchecked);
    }
    setEnabled(!options.isEmpty());
    refreshText();
}

QVariantList ChoiceButton::chosen() const
{
    QVariantList values;
    for (int row = 0; row < m_list->count(); ++row) {
        if (m_list->item(row)->checkState() == Qt::Checked) {
            values << m_list->item(row)->data(Qt::UserRole);
        }
    }
    return values;
}

void ChoiceButton::clear()
{
    for (int row = 0; row < m_list->count(); ++row) {
        m_list->item(row)->setCheckState(Qt::Unchecked);
    }
    refreshText();
}

void ChoiceButton::open()
{
    const int rows = std::clamp(m_list->count(), 1, 12);
    const int height = std::max(24, m_list->sizeHintForRow(0));
    m_popup->resize(std::max(width(), std::min(420, m_list->sizeHintForColumn(0) + 40)),
                    rows * height + 8);
    m_popup->move(mapToGlobal(QPoint(0, QPushButton::height())));
    m_popup->show();
    m_list->setFocus();
    if (m_list->currentRow() < 0) {
        m_list->setCurrentRow(0);
    }
}

bool ChoiceButton::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_list && event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent *>(event)->key();
        const bool ticks = key == Qt::Key_Space || key == Qt::Key_Return || key == Qt::Key_Enter;
        if (ticks && m_list->currentItem() != nullptr) {
            toggle(m_list->currentItem());
            return true;
        }
    }
    return QPushButton::eventFilter(watched, event);
}

void ChoiceButton::toggle(QListWidgetItem *item)
{
    item->setCheckState(item->checkState() == Qt::Checked ? Qt::Unchecked : Qt::Checked);
    refreshText();
    Q_EMIT changed();
}

void ChoiceButton::resizeEvent(QResizeEvent *event)
{
    QPushButton::resizeEvent(event);
    refreshText();
}

void ChoiceButton::refreshText()
{
    QStringList words;
    for (int row = 0; row < m_list->count(); ++row) {
        if (m_list->item(row)->checkState() == Qt::Checked) {
            words << m_list->item(row)->text();
        }
    }
    QString said = words.isEmpty() ? tr("all") : words.join(QStringLiteral(", "));
    if (words.size() > 1 && said.size() > 14) {
        said = tr("%1 of %2").arg(words.size()).arg(m_list->count());
    }
    const QString text = QStringLiteral("%1: %2").arg(m_name, said);
    setAccessibleName(text);
    // As much as the button has room for; an ampersand in a zone's name is no shortcut.
    const QString fitting =
        fontMetrics().elidedText(text, Qt::ElideRight, std::max(40, width() - 24));
    setText(QString(fitting).replace(QLatin1Char('&'), QStringLiteral("&&")));
    setToolTip(plainToolTip(words.join(QStringLiteral(", "))));
}

} // namespace keyround
